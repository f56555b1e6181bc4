"""The maker's job file: read and validated once, at the edge; beyond this room there are only mm, degrees, N and MPa."""
