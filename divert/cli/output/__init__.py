"""What the commands say on a terminal: plain sentences, counts first."""
