"""What goes out: the compiled reader, the dumps, the site."""
