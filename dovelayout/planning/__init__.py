"""Answers that need more than one look at a joint: layouts that propose themselves, and what is to come."""
