"""The public standards for manuals in XML: modules written after them, and a judge of modules that are
exported."""
