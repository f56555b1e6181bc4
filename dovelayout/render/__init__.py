"""Sheets to files: thin back ends that make no decision about geometry."""
