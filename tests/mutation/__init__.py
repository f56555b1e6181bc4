"""Would the tests notice? One small wrong turn at a time is put into the package, and its tests are run."""
