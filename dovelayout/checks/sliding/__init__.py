"""Checks of sliding dovetails: housing, slide home, season and router bit."""
