"""Typed, read-only access to the library and to the user's own tables, each answer with its row. It receives text, never reads disk."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from trivet.catalog_keys import COLUMNS as COLUMNS
from trivet.catalog_keys import holds, is_metric, measure_yours, own_system, sizes, sizes_of_text, usual_first
from trivet.catalog_lengths import HEADS, lengths_of, unknown_threading
from trivet.catalog_rows import FILES, Row, Table
from trivet.model.hardware import Head, Insert, Magnet, Nut, Screw, TeeNut, Thread, Washer
from trivet.suggest import nearest

_METRIC = re.compile(r"M(\d+(?:\.\d+)?)(?:x(\d+(?:\.\d+)?))?\Z")
_TAPPING = re.compile(r"(?:ST\d+(?:\.\d+)?|no_\d+)\Z")


class NoRow(Exception):
    """The tables hold no such thing; `remedy` says what they hold or what to measure.

    `echo`: a table could not be read in full, which was said already, so that this follows from it.
    """

    def __init__(self, message: str, remedy: str = "", echo: bool = False) -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy
        self.echo = echo


class Catalog:
    """Looks rows up, the user's tables first. `load` gives the tables of one library file."""

    def __init__(self, load: Callable[[str], Iterable[Table]], users: tuple[Table, ...] = (), broken_tables: bool = False) -> None:
        self._load = load
        self.users = users
        self._broken_tables = broken_tables
        self._files: dict[str, tuple[Table, ...]] = {}
        self.used_tables: set[str] = set()

    def tables(self, kind: str) -> list[Table]:
        """All tables of a kind, the user's own before the library's."""
        found = [table for table in self.users if table.kind == kind]
        for name in FILES.get(kind, ()):
            if name not in self._files:
                self._files[name] = tuple(self._load(name))
            found += [table for table in self._files[name] if table.kind == kind]
        return found

    def find(self, kind: str, keys: tuple[str, ...], standard: str = "") -> Row | None:
        """The first row of a kind (and a standard) filed under one of the keys."""
        for table in self.tables(kind):
            if standard and not holds(table, standard):
                continue
            for key in keys:
                for row in table.rows:
                    if row.key == key:
                        self.used_tables.add(table.name)
                        return row
        return None

    def _no_row(self, kind: str, what: str, standard: str = "") -> NoRow:
        echo = self._broken_tables and any(table.kind == kind for table in self.users)
        held = [row.key for table in self.tables(kind) if not standard or holds(table, standard) for row in table.rows]
        if not held:
            known = sorted({name for table in self.tables(kind) for name in table.standards})
            listed = ", ".join(known)
            remedy = f"it has {listed}; or add a table of your own" if listed else ""
            return NoRow(f"the library has no {kind.replace('_', ' ')} of {standard}", remedy, echo)
        others = own_system(tuple(self.tables(kind)), what) if standard else ()
        if others and all(is_metric(key) != is_metric(what) for key in held):
            told = "metric" if is_metric(held[0]) else "inch"
            return NoRow(
                f"{standard} is {told} hardware; the size {what} is not", f"for {what} the library has {', '.join(others)}", echo
            )
        some = ", ".join(usual_first(list(dict.fromkeys(held)), what))
        return NoRow(
            f"there is no row {what} for {standard or 'the ' + kind.replace('_', ' ')}",
            f"the library has {some}; or add a table of your own",
            echo,
        )

    def thread(self, designation: str) -> Thread:
        """A thread by designation; `-LH` is left hand. A bare M8 is the coarse pitch (ISO 261)."""
        left = designation.endswith("-LH")
        base = designation.removesuffix("-LH")
        metric = _METRIC.match(base)
        if metric and metric[2] and float(metric[2]) >= 5:
            plain = f"M{metric[1]}"
            raise NoRow(
                f"`{designation}` reads as {plain} with a pitch of {metric[2]} mm",
                f"write `{plain}` for the thread and `length {metric[2]} mm` for the length",
            )
        row = self.find("thread", (base,))
        if row is None and metric and metric[2]:
            coarse = self.find("thread", (f"M{metric[1]}",))
            if coarse is not None and coarse.mm("pitch") == float(metric[2]):
                row = coarse
        if row is None:
            raise self._no_row("thread", base)
        pitch = row.mm("pitch")
        if pitch is None:
            per_inch = row.number("threads_per_inch")
            assert per_inch, row
            pitch = 25.4 / per_inch
        major = row.mm("diameter")
        assert major is not None, row
        return Thread(
            designation=designation,
            major_mm=major,
            pitch_mm=pitch,
            lead_mm=pitch * (row.number("starts") or 1),
            hand=-1 if left else 1,
            system="tapping" if _TAPPING.match(base) else "metric" if metric else "unified",
            pitch_diameter_mm=row.mm("pitch_diameter"),
            minor_mm=row.mm("minor_diameter_internal"),
            origin=row.origin,
        )

    def head(self, standard: str, thread: Thread) -> Head:
        """The head of a screw by its standard (with the product word where the standard covers several)."""
        for kind, form in HEADS.items():
            if not any(holds(table, standard) for table in self.tables(kind)):
                continue
            row = self.find(kind, sizes(thread), standard)
            if row is None:
                raise self._no_row(kind, sizes(thread)[-1], standard)
            height = row.mm("head_height_max") or row.mm("head_height_nominal")
            across = row.mm("across_flats")
            diameter = row.mm("head_diameter_max") or row.mm("head_diameter_theoretical_max") or across
            if diameter is None or (height is None and form not in ("countersunk", "wood")):
                raise NoRow(f"the head of {thread.designation} to {standard} is not known", measure_yours(kind, thread, standard))
            key = row.mm("key")
            return Head(
                form=form,
                diameter_mm=diameter,
                height_mm=row.mm("head_height_nominal") or height or 0.0,
                height_max_mm=height or 0.0,
                height_min_mm=row.mm("head_height_min"),
                across_flats_mm=across,
                across_corners_mm=row.mm("across_corners_min"),
                key=f"{key:g} mm hexagon key"
                if key and row.units.get("key") != "in"
                else f"{row.cells['key']} in hexagon key"
                if key
                else "",
                origin=row.origin,
                angle_deg=row.number("angle"),
            )
        known = sorted({name for kind in HEADS for table in self.tables(kind) for name in table.standards})
        near = nearest(standard, known)
        remedy = f"did you mean `{near}`?" if near else f"it has {', '.join(known)}"
        raise NoRow(f"the library has no screw to {standard}", remedy)

    def screw(self, standard: str, thread: Thread) -> Screw:
        """A screw with its head, thread length and the lengths that are sold."""
        head = self.head(standard, thread)
        wrong, remedy = unknown_threading(self, standard, thread)
        if wrong:
            raise NoRow(wrong, remedy, self._broken_tables)
        threaded, stock, origin = lengths_of(self, standard, thread)
        bore = self.find("counterbore", sizes(thread), standard)
        return Screw(
            standard=standard,
            thread=thread,
            head=head,
            threaded=threaded,
            stock_mm=stock,
            stock_origin=origin,
            counterbore_mm=bore.mm("diameter") if bore is not None else None,
            counterbore_origin=bore.origin if bore is not None else None,
            origin=head.origin,
        )

    def nut(self, standard: str, thread: Thread) -> Nut:
        """A hexagon nut."""
        row = self.find("nut", sizes(thread), standard)
        if row is None:
            raise self._no_row("nut", sizes(thread)[-1], standard)
        flats, height = row.mm("across_flats"), row.mm("height_max")
        if flats is None or height is None:
            raise NoRow(f"the nut {thread.designation} to {standard} is not fully known", measure_yours("nut", thread, standard))
        return Nut(
            standard=standard,
            thread=thread,
            across_flats_mm=flats,
            across_corners_mm=row.mm("across_corners_min"),
            height_mm=height,
            height_min_mm=row.mm("height_min"),
            origin=row.origin,
        )

    def tee_nut(self, thread: Thread) -> TeeNut:
        """A tee nut of the trade type, or the user's own."""
        row = self.find("tee_nut", (thread.designation.removesuffix("-LH"),))
        if row is None:
            # A tee nut of the same size and another pitch is another tee nut.
            raise self._no_row("tee_nut", sizes(thread)[0])
        values = {
            "flange_diameter_mm": row.mm("outside_diameter"),
            "flange_thickness_mm": row.mm("flange_thickness"),
            "barrel_diameter_mm": row.mm("barrel_diameter"),
            "barrel_length_mm": row.mm("length"),
            "hole_mm": row.mm("hole"),
        }
        _all_known(values, "tee nut", thread, row, "tee_nut")
        known = {key: value for key, value in values.items() if value is not None}
        height = row.mm("height") or known["barrel_length_mm"] + known["flange_thickness_mm"]
        return TeeNut(thread=thread, height_mm=height, origin=row.origin, **known)

    def washer(self, standard: str, size: str, thread: Thread | None) -> Washer:
        """A flat washer of the stated size, or of the thread's."""
        keys = (size, *sizes_of_text(size)) if size else sizes(thread) if thread else ()
        row = self.find("washer", keys, standard)
        if row is None:
            raise self._no_row("washer", keys[-1] if keys else "", standard)
        inside, outside = row.mm("inside_diameter"), row.mm("outside_diameter")
        most = row.mm("thickness_max")
        assert inside is not None and outside is not None and most is not None, row
        nominal = row.mm("thickness_nominal") or most
        return Washer(
            standard=standard,
            size=row.key,
            inside_mm=inside,
            outside_mm=outside,
            thickness_mm=nominal,
            thickness_max_mm=most,
            thickness_min_mm=row.mm("thickness_min") or nominal,
            origin=row.origin,
        )

    def insert(self, table: str, thread: Thread) -> Insert:
        """An insert from the named table; what the table does not know must be measured."""
        echo = self._broken_tables
        tables = [item for item in self.tables("insert") if item.name == table]
        if not tables:
            names = [item.name for item in self.tables("insert")]
            near = nearest(table, names)
            raise NoRow(
                f"there is no table of inserts `{table}`",
                f"did you mean `{near}`?" if near else f"the tables are {', '.join(names)}; measured ones go into `table {table} is insert`",
                echo,
            )
        left_first = (thread.designation, thread.designation.removesuffix("-LH"))
        row = next((row for key in left_first for row in tables[0].rows if row.key == key), None)
        if row is None:
            held = ", ".join(row.key for row in tables[0].rows)
            raise NoRow(
                f"the table `{table}` has no row {thread.designation}", f"it has {held}; add a row for {thread.designation}", echo
            )
        self.used_tables.add(table)
        outside = row.band("outside")
        values = {column: row.mm(column) for column in ("length", "live_from", "live_to", "hole")}
        _all_known({"outside": row.mm("outside"), **values}, "insert", thread, row, "insert")
        assert outside is not None
        known = {f"{column}_mm": value for column, value in values.items() if value is not None}
        return Insert(
            table=table,
            thread=thread,
            outside=outside,
            flange_diameter_mm=row.mm("flange_diameter"),
            flange_thickness_mm=row.mm("flange_thickness"),
            origin=row.origin,
            **known,
        )

    def clearance_mm(self, thread: Thread, fit: str) -> tuple[float, object]:
        """A clearance hole of fit fine, medium or coarse (ISO 273; ASME B18.2.8 close, normal, loose), with its row."""
        row = self.find("clearance_hole", sizes(thread))
        value = row.mm(fit) if row is not None else None
        if row is None or value is None:
            raise self._no_row("clearance_hole", sizes(thread)[-1])
        return value, row.origin

    def counterbore_mm(self, standard: str, thread: Thread) -> tuple[float, object]:
        """The counterbore's diameter for a head to a standard; by table, else the head's largest diameter plus 1 mm (common practice, no source)."""
        row = self.find("counterbore", sizes(thread), standard)
        value = row.mm("diameter") if row is not None else None
        if row is not None and value is not None:
            return value, row.origin
        head = self.head(standard, thread)
        wide = head.across_flats_mm * 1.1547 if head.across_flats_mm else head.diameter_mm
        return wide + 1.0, head.origin

    def magnet(self, diameter_mm: float, thickness_mm: float) -> Magnet:
        """A disc magnet as stated; the library only lists usual sizes."""
        return Magnet(diameter_mm=diameter_mm, thickness_mm=thickness_mm)


def _all_known(values: dict[str, float | None], what: str, thread: Thread, row: Row, kind: str) -> None:
    missing = [name.removesuffix("_mm") for name, value in values.items() if value is None]
    if missing:
        columns = " and ".join(f"`{name}`" for name in missing)
        raise NoRow(
            f"{columns} of the {what} {thread.designation} {'is' if len(missing) == 1 else 'are'} unknown: table `{row.table}`",
            measure_yours(kind, thread),
        )
