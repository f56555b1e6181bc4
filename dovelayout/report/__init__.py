"""Output about a job: verdicts, rows of tables, JSON, and the files that are drawn."""
