"""The ordering engine over plain integers: order, bound, proof; and a checker that is independent of it."""
