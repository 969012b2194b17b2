"""Where the tables of a sheet lie, what their headings say, and how their columns hang together."""
