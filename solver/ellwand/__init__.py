"""Ellwand: quilt pieces out of the cloth you own, and what more to buy.

The front door is :func:`ellwand.plan.make_plan`.
"""

__version__ = "0.1.0"
