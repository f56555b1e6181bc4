"""Faces become a neutral full-size drawing, and the drawing sheets of paper; nothing here knows PDF or SVG."""
