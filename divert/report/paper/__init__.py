"""How a page is set: style, fonts, pictures, HTML and PDF."""
