"""Wood data: strength, stiffness, movement, moisture, glue. Import from the modules by name."""
