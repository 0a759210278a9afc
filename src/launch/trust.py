"""Trust the workbook's own notebooks, so that the button at their top runs without a question.

    python trust.py FOLDER

Run by the environment's Python before JupyterLab opens.  Only notebooks without any output are
signed: whatever came with an output from elsewhere keeps JupyterLab's own question.  What the
reader runs and saves is signed by JupyterLab itself.
"""

import sys
from pathlib import Path


def unanswered(book: dict) -> bool:
    """Whether no cell of a notebook carries an output."""
    return not any(cell.get("outputs") for cell in book.get("cells", ()))


def trust(folder: Path) -> int:
    """Sign every notebook of a folder that carries no output; how many."""
    # Only the environment has it; the rest of this package runs before there is one.
    from nbformat import read
    from nbformat.sign import NotebookNotary

    notary, count = NotebookNotary(), 0
    for path in sorted(folder.glob("*.ipynb")):
        try:
            book = read(path, as_version=4)
        except Exception:
            # A notebook that cannot be read is JupyterLab's to report.
            continue
        if unanswered(book):
            notary.sign(book)
            count += 1
    return count


if __name__ == "__main__":
    trust(Path(sys.argv[1]))
