"""A model and what people put right in it -> the model put right, and what no longer fits."""
