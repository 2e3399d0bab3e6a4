"""Service manuals of many house styles, made from source, and how reading is scored against them."""
