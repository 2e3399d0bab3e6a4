"""Claims with causes -> how many mistakes it takes for something still to hold. Pure."""
