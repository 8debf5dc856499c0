"""`python -m switchmatrix`."""

from switchmatrix.cli import main

main()
