"""Woods and what is known of them: strength, movement, moisture, glue. Import from the modules by name."""
