"""The glue-up: its order, its stages against the open time, cauls, spreaders and diagonals."""
