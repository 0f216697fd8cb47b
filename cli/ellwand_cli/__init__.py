"""The command line of Ellwand: it shows what the library ``ellwand`` decides."""
