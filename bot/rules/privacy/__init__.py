"""How long what is kept about people stays."""
