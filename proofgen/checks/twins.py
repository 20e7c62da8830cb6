"""The photos of all orders of a shop, looked at once in a run: which of them are the same."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from functools import cached_property
from pathlib import Path

from proofgen.model import Order
from proofgen.store import Store, known_digest


class Twins:
    """Every photo of these orders. Sizes are asked for when the first twin is looked for, and bytes
    are compared only where orders have photos of one size."""

    def __init__(self, orders: Iterable[Order], store: Store) -> None:
        self._store = store
        self._uses = [
            (use.file, order)
            for order in orders
            for line in order.lines
            for use in line.photos.values()
        ]

    def photos_of_others(self, order: Order) -> int:
        """How many photos the orders of other customers hold."""
        return len(self._uses) - self._photos_of[_customer_of(order)]

    def orders_of_others(self, sha256: str, order: Order) -> list[str]:
        """The orders of other customers that use the photo with this digest."""
        same = self._orders_with.get(sha256, {}).values()
        return [other.id for other in same if _customer_of(other) != _customer_of(order)]

    def orders_with(self, file: Path) -> list[Order]:
        """The orders that use a photo with the bytes of this file, whoever's they are."""
        try:
            found = []
            for photo, order in self._by_size.get(file.stat().st_size, ()):
                same = known_digest(photo, self._store) == known_digest(file, self._store)
                found += [order] if same else []
        except OSError:
            return []  # that it cannot be read is told where it is used
        return found

    @cached_property
    def _photos_of(self) -> Counter[str]:
        return Counter(_customer_of(order) for _, order in self._uses)

    @cached_property
    def _by_size(self) -> dict[int, list[tuple[Path, Order]]]:
        """The photos of a size, with the orders that use them."""
        by_size: dict[int, list[tuple[Path, Order]]] = defaultdict(list)
        for file, order in self._uses:
            try:
                by_size[file.stat().st_size].append((file, order))
            except OSError:
                continue  # that it cannot be read is told with its own order
        return by_size

    @cached_property
    def _orders_with(self) -> dict[str, dict[str, Order]]:
        """Digest of a photo to the orders (by id) that use it; none that has no twin."""
        by_digest: dict[str, dict[str, Order]] = defaultdict(dict)
        for uses in self._by_size.values():
            if len({order.id for _, order in uses}) == 1:
                continue
            for file, order in uses:
                try:
                    by_digest[known_digest(file, self._store)][order.id] = order
                except OSError:
                    continue
        return by_digest


def _customer_of(order: Order) -> str:
    """By what two orders are taken for the same customer's."""
    return (order.customer.email or order.customer.name).strip().casefold()
