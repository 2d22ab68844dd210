"""The wide local store: built once from installed packages, read without them."""
