"""Pages as values become the bytes of a PDF: the one place that draws.

Numbers of sections and tables in this package are those of ISO 32000-1 (PDF 1.7).
"""

from stairjig.pdf.document import DRAWN_WITH, write_pdf

__all__ = ["DRAWN_WITH", "write_pdf"]
