"""Repairs: gaps, patches, seized joints, cracks, and from what is seen to what it comes from."""
