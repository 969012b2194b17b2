"""What runs in the held child process: the bytes of one file in, its cells or one refusal out.

Spreadsheets are hostile input, so nothing here opens a file, a socket or another program; the parent
hands over the bytes and holds the child to a time and a size. Nothing heavy is imported.
"""
