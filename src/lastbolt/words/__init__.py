"""Shared values: citations, quantities, facts, documents, problems. Pure; imports nothing of lastbolt."""
