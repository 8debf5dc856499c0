"""States to messages: what must be sent, in what order, and when."""
