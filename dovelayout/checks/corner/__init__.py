"""Checks of one corner: grain, pins, tails, grooves, laps, stock, tools and fit."""
