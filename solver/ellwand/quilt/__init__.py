"""The quilt arithmetic: from what is asked for to the pieces that are cut, a module for each part of the quilt."""
