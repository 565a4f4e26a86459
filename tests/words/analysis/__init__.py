"""Sentences about how firm a result is, and how far judges agree."""
