"""Drawings as bytes: SVG, and PNG made from it."""
