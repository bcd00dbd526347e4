"""The screens, one module each. No screen decides what is right or due."""
