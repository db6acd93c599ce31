"""The list to share: the bill with its totals as Markdown, HTML, a spreadsheet, or (by the window) a PDF."""

from __future__ import annotations

from core.report.share.content import Part, Sharing, share_content
from core.report.share.html import html_text
from core.report.share.markdown import markdown_text
from core.report.share.workbook import workbook_bytes

__all__ = ["Part", "Sharing", "html_text", "markdown_text", "share_content", "workbook_bytes"]
