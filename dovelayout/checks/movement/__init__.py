"""Checks of wood that moves: parts fastened across it, panels, neighbours, and stock against the air."""
