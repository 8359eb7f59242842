"""What is offered: the lines of a quote, the texts that go with it, the letter and the letter of changes."""
