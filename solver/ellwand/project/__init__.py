"""The project file: what it may say, how it is read, and the starter that ``ellwand new`` writes."""
