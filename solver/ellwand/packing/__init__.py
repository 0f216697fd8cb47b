"""Rectangles into stock, in whole numbers; nothing in here knows what is packed."""
