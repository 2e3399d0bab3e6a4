"""Every assembly of the Q222 as a drawing with named points that a callout can point at."""
