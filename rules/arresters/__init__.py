"""Whether surge arresters bear the voltage of their bus."""
