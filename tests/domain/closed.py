"""Whether a record can be written to: results that are kept and shared must not change."""


def is_closed(record):
    """Nothing of it can be set anew, and nothing else set."""
    sealed = isinstance(record, tuple) or type(record).__dataclass_params__.frozen
    return sealed and not hasattr(record, "__dict__")
