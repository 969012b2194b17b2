"""Where reports meet the register: from a job to finished, written and remembered files."""
