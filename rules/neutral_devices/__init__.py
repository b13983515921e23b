"""Whether what stands in a neutral is rated for its duty and agrees with itself."""
