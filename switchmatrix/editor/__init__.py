"""Help for whoever writes a show in an editor: its own schemas, skeletons to begin from."""
