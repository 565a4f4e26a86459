"""What the platform takes: lengths, counts and combinations in messages, components, forms and commands."""
