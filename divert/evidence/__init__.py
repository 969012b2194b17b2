"""What stands behind a figure: the lines, factors and recipes it is made of, and what of them is sent."""
