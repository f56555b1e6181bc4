"""Paper: the frame of a sheet, pieces nested on sheets, running text, and which sheet holds what."""
