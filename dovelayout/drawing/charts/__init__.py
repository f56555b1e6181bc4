"""Charts: the year of a part, and the rehearsed joints."""
