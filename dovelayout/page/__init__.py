"""The local page: shows what the other rooms compute, and computes nothing of its own."""
