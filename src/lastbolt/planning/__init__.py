"""The goal's closure over all chapters, as one ordered checklist. Pure."""
