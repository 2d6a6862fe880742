"""What tests have to tell besides passing: shown at the end of a run, from whichever process it comes."""


def pytest_terminal_summary(terminalreporter):
    """Print what tests recorded as ``told``: counts that a reader should see although nothing failed."""
    for outcome in ("passed", "failed"):
        for report in terminalreporter.stats.get(outcome, ()):
            for name, told in getattr(report, "user_properties", ()):
                if name == "told" and report.when == "call":
                    terminalreporter.section(report.nodeid)
                    terminalreporter.write_line(told)
