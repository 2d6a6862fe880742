"""What rules share about one known circuit: what loads draw, what cables carry, what a conductor may carry."""
