"""Drawings as bytes: SVG, and PNG and PDF made from it."""
