"""Parts to order, each with its reasons."""
