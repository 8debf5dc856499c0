"""Two shows, legs or rigs side by side: what differs, what that touches, what is to be done at the rack."""
