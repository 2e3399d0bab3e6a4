"""Pictures as values: the joint as a mechanic would sketch it, as SVG. Pure."""
