"""How much each row says: columns of quantities as arrays, and what follows from them."""
