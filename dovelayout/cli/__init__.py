"""The command line: parse, call, show, exit code. One small module a command; heavy rooms are loaded inside them."""
