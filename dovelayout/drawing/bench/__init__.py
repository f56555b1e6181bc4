"""The bench sheet: what stands on it as plain values, and how it is set."""
