"""The cable schedule: what was ordered, and how the tests answer to it."""
