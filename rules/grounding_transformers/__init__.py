"""Whether grounding transformers are rated for their duty."""
