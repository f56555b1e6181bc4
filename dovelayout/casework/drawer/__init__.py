"""A drawer: from its opening to boards, corners, sums and a cut list."""
