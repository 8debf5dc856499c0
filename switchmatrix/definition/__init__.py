"""What one model of device understands: programs, domains, scales, carriers. Numbers and names only."""
