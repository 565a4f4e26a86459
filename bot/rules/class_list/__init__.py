"""What is decided, by subject: the class list: a file becomes names, sections and yes/no columns."""
