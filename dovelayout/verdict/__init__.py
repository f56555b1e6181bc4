"""The verdict on a job: every check on everything in it, and changes that were tried on all of it before they are offered."""
