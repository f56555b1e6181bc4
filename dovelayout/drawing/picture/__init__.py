"""Pictures of joints: solids drawn together and apart, hidden lines out."""
