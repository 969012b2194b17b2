"""The local page: a thin coat over the same steps that the commands use, for one person's browser."""
