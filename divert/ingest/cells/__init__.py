"""One kind of cell, one small file: each ``read_cell`` gives a value or one named problem."""
