"""The workbook as a place and a page: its folder on the user's disk, and the server that shows it.

Apart from `modelmath.widgets`, because nothing here needs a widget: opening the workbook must not wait
for the panels' imports, which the page's own kernel makes.
"""
