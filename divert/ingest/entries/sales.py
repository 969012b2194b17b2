"""The money side of a sale."""

from __future__ import annotations

import numpy as np

from divert.ingest.amounts.measured import Measured
from divert.ingest.amounts.money import read_money
from divert.ingest.arrays import Floats
from divert.ingest.coded import Coded, constant, of_texts
from divert.ingest.entries.activities import currency_of
from divert.ingest.entries.job import TableJob
from divert.ingest.tables.groups import Group


def sale_numbers(job: TableJob, group: Group, amounts: Measured) -> tuple[Coded, Coded, Floats]:
    """Return a sale's currency, what one unit of it is, and the money taken."""
    size = len(amounts.count)
    column = next(iter(group.columns.get("money", ())), None)
    price = job.layout.shared.get("price")
    money = np.full(size, np.nan)
    currency = constant("", size)
    if column is not None:
        money, _, currency = read_money(column.cells)
    elif price is not None:
        each, _, currency = read_money(price.cells)
        money = each * amounts.count
    currency = currency.filled(constant(currency_of(column or price, job), size))

    return currency.where(np.isnan(money), constant("", size)), of_texts(amounts.container), money
