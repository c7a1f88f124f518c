"""A whole co-op priced in one go: what each member owes, and one order in whole packs.

Tables come as CSV, Parquet or the sheets of a workbook; ``layout`` says which columns they have.
``coop.price_coop`` is the way in, from Python and for the command line alike.
"""
