"""What was read the last time, held against what is read now, so that absence is noticed."""
