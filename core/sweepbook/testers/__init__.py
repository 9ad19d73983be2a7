"""What the tests of a job say of the testers they were made with."""
