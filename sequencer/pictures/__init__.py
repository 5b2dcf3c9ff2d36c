"""Pictures of a plan: half-section and dependency diagram."""
