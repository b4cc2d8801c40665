"""Every mutant of a list written into the code at once, each behind a switch.

One mutant at a time costs a build for each. Here the code is built once: where a mutant makes ``a - b`` of ``a + b``,
the code asks at run time which mutant is on. Those that do not compile are found by asking the compiler, and taken out.
"""

from __future__ import annotations

import json
import re
import subprocess
from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import tree_sitter
import tree_sitter_rust

#: What says which mutant is on. The largest numbers are no mutants: none was asked for, trace, nobody looked yet.
MODULE = """
#[doc(hidden)]
pub mod mutant {
    use std::io::Write as _;
    use std::sync::atomic::{AtomicBool, AtomicU32, Ordering::Relaxed};

    const NONE: u32 = u32::MAX - 2;
    const TRACE: u32 = u32::MAX - 1;
    const NOT_LOOKED: u32 = u32::MAX;
    static CHOSEN: AtomicU32 = AtomicU32::new(NOT_LOOKED);
    static SEEN: [AtomicBool; COUNT] = [const { AtomicBool::new(false) }; COUNT];

    #[inline]
    pub fn on(number: u32) -> bool {
        let chosen = CHOSEN.load(Relaxed);
        if chosen > NONE { seldom(number) } else { chosen == number }
    }

    #[cold]
    #[inline(never)]
    fn seldom(number: u32) -> bool {
        if CHOSEN.load(Relaxed) == NOT_LOOKED {
            let chosen = match std::env::var("WHEELRATE_MUTANT").as_deref() {
                Err(_) => NONE,
                Ok("trace") => TRACE,
                Ok(text) => text.parse().unwrap(),
            };
            CHOSEN.store(chosen, Relaxed);
            return on(number);
        }
        if !SEEN[number as usize].swap(true, Relaxed) {
            let path = std::env::var("WHEELRATE_TRACE").unwrap();
            let mut file = std::fs::OpenOptions::new().create(true).append(true).open(path).unwrap();
            file.write_all(format!("{number}\\n").as_bytes()).unwrap();
        }
        false
    }

    /// Chooses a mutant, or traces anew, from outside.
    #[unsafe(no_mangle)]
    pub extern "C" fn wheelrate_mutant(number: u32) {
        SEEN.iter().for_each(|seen| seen.store(false, Relaxed));
        CHOSEN.store(number, Relaxed);
    }
}
"""

LANGUAGE = tree_sitter.Language(tree_sitter_rust.language())
ASSIGNING = (b"+=", b"-=", b"*=", b"/=", b"%=", b"&=", b"|=", b"^=", b"<<=", b">>=")
COMPARING = (b"==", b"!=", b"<", b">", b"<=", b">=")
LAZY = (b"&&", b"||")
MARK = re.compile(rb"/\*<([\d,]+)\*/|/\*>\*/")
HOLDS_CODE = ("function_item", "impl_item", "const_item", "static_item")


def on(number: int) -> bytes:
    """Ask whether a mutant is on."""
    return b"crate::mutant::on(%d)" % number


def marked(numbers: Iterable[int], text: bytes) -> bytes:
    """Put marks around a text, by which an error of the compiler finds its mutants."""
    return b"/*<" + b",".join(b"%d" % number for number in numbers) + b"*/" + text + b"/*>*/"


def parsed(source: bytes) -> tree_sitter.Tree:
    """Read Rust."""
    return tree_sitter.Parser(LANGUAGE).parse(source)


def part(node: tree_sitter.Node, name: str) -> tree_sitter.Node:
    """Find a part of a node that its grammar always has."""
    found = node.child_by_field_name(name)
    if found is None:
        raise SystemExit(f"{node.type} without its {name}: {node.text!r}")
    return found


class File:
    """A source file with its mutants by their numbers.

    Numbers in ``without`` are left out. ``placed`` has those whose place in the code was found.
    """

    def __init__(self, source: bytes, mutants: dict[int, dict[str, Any]]) -> None:
        self.source, self.mutants = source, mutants
        self.tree = parsed(source)
        self.placed: set[int] = set()
        self.without: set[int] = set()
        lines = source.split(b"\n")
        starts = [0]
        for line in lines:
            starts.append(starts[-1] + len(line) + 1)
        self.at: dict[tuple[str, int], list[int]] = defaultdict(list)
        for number, mutant in mutants.items():
            start = mutant["span"]["start"]
            before = lines[start["line"] - 1].decode()[: start["column"] - 1]
            self.at[mutant["genre"], starts[start["line"] - 1] + len(before.encode())].append(number)

    def switched(self, without: set[int]) -> bytes:
        """Write the file with all of its mutants but those."""
        self.without = without
        return self.emit(self.tree.root_node)

    def text(self, node: tree_sitter.Node) -> bytes:
        return self.source[node.start_byte : node.end_byte]

    def of(self, genre: str, start: int) -> list[int]:
        found = self.at.get((genre, start), [])
        self.placed.update(found)
        return [number for number in found if number not in self.without]

    def replacement(self, number: int) -> bytes:
        replacement: str = self.mutants[number]["replacement"]
        return replacement.encode()

    def children(self, node: tree_sitter.Node, other: dict[int, bytes] | None = None) -> bytes:
        """Write a node's text, with its children as they are emitted or as ``other`` has them."""
        parts, at = [], node.start_byte
        for child in node.children:
            parts += [self.source[at : child.start_byte], (other or {}).get(child.id) or self.emit(child)]
            at = child.end_byte
        return b"".join([*parts, self.source[at : node.end_byte]])

    def emit(self, node: tree_sitter.Node) -> bytes:
        if node.child_count == 0 or node.type == "token_tree":
            return self.text(node)
        if node.type in ("binary_expression", "compound_assignment_expr"):
            operator = part(node, "operator")
            if numbers := self.of("BinaryOperator", operator.start_byte):
                return self.binary(node, self.text(operator), numbers)
        elif node.type == "unary_expression":
            if numbers := self.of("UnaryOperator", node.start_byte):
                return self.unary(node, numbers)
        elif node.type == "function_item":
            return self.function(node)
        elif node.type == "match_arm":
            return self.arm(node)
        elif node.type in ("field_initializer", "shorthand_field_initializer"):
            return self.initializer(node)
        return self.children(node)

    def binary(self, node: tree_sitter.Node, sign: bytes, numbers: list[int]) -> bytes:
        """Operands are evaluated once, except for those that must not be."""
        left, right = (self.emit(part(node, side)) for side in ("left", "right"))
        if sign in LAZY:
            head, one, other = b"(match (%s,) { (l,) => " % left, b"l", right
        elif sign in ASSIGNING:
            head, one, other = b"(match (%s,) { (r,) => " % right, left, b"r"
        elif sign in COMPARING:
            head, one, other = b"(match (&(%s), &(%s)) { (l, r) => " % (left, right), b"l", b"r"
        else:
            head, one, other = b"(match (%s, %s) { (l, r) => " % (left, right), b"l", b"r"
        tries = b"".join(
            b"if %s { %s } else " % (on(number), marked([number], b" ".join([one, self.replacement(number), other])))
            for number in numbers
        )
        return marked(numbers, head + tries + b"{ %s %s %s } })" % (one, sign, other))

    def unary(self, node: tree_sitter.Node, numbers: list[int]) -> bytes:
        inner = node.children[1]
        sign = self.source[node.start_byte : inner.start_byte]
        taken_away = marked(numbers, b"x")
        text = b"(match (%s,) { (x,) => if %s { %s } else { %sx } })"
        return marked(numbers, text % (self.emit(inner), on(numbers[0]), taken_away, sign))

    def function(self, node: tree_sitter.Node) -> bytes:
        """Let a function return something else at once. The list gives the place of its first statement."""
        body = part(node, "body")
        numbers = sorted({number for child in body.children for number in self.of("FnValue", child.start_byte)})
        returns = b"".join(
            marked([number], b" if %s { return %s; }" % (on(number), self.replacement(number))) for number in numbers
        )
        return self.children(node, {body.id: b"{" + returns + self.children(body)[1:]})

    def arm(self, node: tree_sitter.Node) -> bytes:
        """Let a deleted arm never match: another one has what it leaves, or it would not compile."""
        pattern = part(node, "pattern")
        guard = pattern.child_by_field_name("condition")
        deleted = self.of("MatchArm", node.start_byte)
        replaced = self.of("MatchArmGuard", guard.start_byte) if guard is not None else []
        if not deleted and not replaced:
            return self.children(node)
        if guard is None:
            head, asked = self.emit(pattern), b"true"
        else:
            word = next(child for child in pattern.children if child.type == "if")
            head, asked = self.source[pattern.start_byte : word.start_byte], self.emit(guard)
        for number in replaced:
            asked = b"(if %s { %s } else { %s })" % (on(number), self.replacement(number), asked)
        for number in deleted:
            asked = b"!%s && (%s)" % (on(number), asked)
        return self.children(node, {pattern.id: head + marked(deleted + replaced, b" if " + asked)})

    def initializer(self, node: tree_sitter.Node) -> bytes:
        """Take the value of a field that is left out from the rest, ``..rest``."""
        numbers = self.of("StructField", node.start_byte)
        siblings = node.parent.children if node.parent else []
        rest = next((other for other in siblings if other.type == "base_field_initializer"), None)
        if not numbers or rest is None:
            return self.children(node)
        short = node.type == "shorthand_field_initializer"
        name = self.text(node if short else part(node, "field"))
        value = name if short else self.emit(part(node, "value"))
        return marked(
            numbers,
            b"%s: if %s { (%s).%s } else { %s }" % (name, on(numbers[0]), self.text(rest.children[1]), name, value),
        )


def regions(text: bytes) -> list[tuple[int, int, list[int]]]:
    """Find the marks: start, end and numbers, what is inside before what is around it."""
    found, opened = [], []
    for mark in MARK.finditer(text):
        if mark[1]:
            opened.append((mark.end(), [int(number) for number in mark[1].split(b",")]))
        else:
            start, numbers = opened.pop()
            found.append((start, mark.start(), numbers))
    return found


def around(text: bytes, place: tuple[int, int]) -> set[int]:
    """Find all mutants of the smallest function, or other item, around a place."""
    smallest: tuple[int, int] | None = None
    nodes = [parsed(text).root_node]
    while nodes:
        node = nodes.pop()
        if node.start_byte <= place[0] and place[1] <= node.end_byte:
            nodes += node.children
            if node.type in HOLDS_CODE:
                smallest = (node.start_byte, node.end_byte)
    if smallest is None:
        return set()
    return {
        number
        for start, end, numbers in regions(text)
        if smallest[0] <= start and end <= smallest[1]
        for number in numbers
    }


def blamed(texts: dict[str, bytes], error: dict[str, Any]) -> set[int]:
    """Find the mutants that an error of the compiler stands in; where it stands in none, all of its function."""
    places = []
    for span in sorted(error["spans"], key=lambda span: not span["is_primary"]):
        while span.get("expansion"):
            span = span["expansion"]["span"]
        if span["file_name"] in texts:
            places.append((texts[span["file_name"]], (span["byte_start"], span["byte_end"])))
    for text, (first, last) in places:
        for start, end, numbers in regions(text):
            if start <= first and last <= end:
                return set(numbers)
    return set().union(*(around(text, place) for text, place in places))


def switch(tree: Path, mutants: list[dict[str, Any]], environment: dict[str, str]) -> set[int]:
    """Write all mutants into the code of ``tree``, and return those that do not compile."""
    of_file: dict[str, dict[int, Any]] = defaultdict(dict)
    for number, mutant in enumerate(mutants):
        of_file[mutant["file"]][number] = mutant
    files = {name: File((tree / name).read_bytes(), of) for name, of in of_file.items()}
    library = tree / "core/src/lib.rs"
    library.write_text(library.read_text("utf-8") + MODULE.replace("COUNT", str(len(mutants))), "utf-8")
    texts: dict[str, bytes] = {}
    without: set[int] = set()
    changed = set(files)
    while changed:
        for name in changed:
            texts[name] = files[name].switched(without)
            (tree / name).write_bytes(texts[name])
        without |= {number for file in files.values() for number in set(file.mutants) - file.placed}
        errors = compiled(tree, environment)
        taken = set().union(*(blamed(texts, error) for error in errors)) - without
        if errors and not taken:
            raise SystemExit("\n".join(error["rendered"] for error in errors))
        print(f"{len(errors)} errors: {len(taken)} mutants that do not compile", flush=True)
        without |= taken
        changed = {mutants[number]["file"] for number in taken}
    return without


def compiled(tree: Path, environment: dict[str, str]) -> list[dict[str, Any]]:
    """Ask the compiler: its errors."""
    command = "cargo check --package wheelrate --lib --tests --profile test --keep-going --message-format json"
    ran = subprocess.run(command.split(), cwd=tree, env=environment, capture_output=True, text=True)
    rows = [row["message"] for row in map(json.loads, ran.stdout.splitlines()) if row["reason"] == "compiler-message"]
    errors = [row for row in rows if row["level"] == "error" and row["spans"]]
    if ran.returncode and not errors:
        raise SystemExit(ran.stderr)
    return errors
