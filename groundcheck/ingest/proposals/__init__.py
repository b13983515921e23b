"""A column map proposed for sources that explain themselves only in part."""
