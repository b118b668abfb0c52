"""``python -m dosecalc``."""

from dosecalc.faces.cli import main

if __name__ == "__main__":
    main()
