"""From records to the canonical tables: admission, identity, references, and what is only implied."""
