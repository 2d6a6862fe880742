"""The command line: one module a subcommand, each imported only when it is asked for."""
