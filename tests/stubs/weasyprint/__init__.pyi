# The part of WeasyPrint that render.pdf uses.
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher

class DocumentMetadata:
    title: str | None
    authors: list[str]

class Box:
    children: list[Box]
    position_y: float
    height: float
    def content_box_y(self) -> float: ...

class Page:
    height: float
    _page_box: Box

class Document:
    pages: list[Page]
    metadata: DocumentMetadata
    def write_pdf(self, *, pdf_tags: bool = ...) -> bytes: ...

class HTML:
    def __init__(self, *, string: str, base_url: str, url_fetcher: URLFetcher) -> None: ...
    def render(self, *, font_config: FontConfiguration, pdf_tags: bool = ...) -> Document: ...
