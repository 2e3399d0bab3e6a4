"""lastbolt: account for every fastener of a joint before force is applied."""

__version__ = "0.1.0"
