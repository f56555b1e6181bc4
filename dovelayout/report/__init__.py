"""What people and machines are told of a job: verdicts, rows of tables, JSON, and the files that are drawn."""
