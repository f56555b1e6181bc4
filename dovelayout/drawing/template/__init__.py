"""Templates: the drawing that folds over a board end, its texts, tiles and sections."""
