"""One file per use: joins the pure packages."""
