"""Vector pictures made on the server: labelled, each with the table behind it, no meaning by colour alone."""
