"""TeX of notebooks as MathML, which browsers draw themselves: no script, no font from anywhere."""

from typing import Any

from docutils import nodes
from latex2mathml.converter import convert
from sphinx.application import Sphinx


def _inline(self: Any, node: nodes.math) -> None:
    self.body.append(convert(node.astext(), display="inline"))
    raise nodes.SkipNode


def _block(self: Any, node: nodes.math_block) -> None:
    # An empty line ends a paragraph for TeX, and nothing for us.
    text = " ".join(line for line in node.astext().splitlines() if line.strip())
    self.body.append(f'<div class="math">{convert(text, display="block")}</div>')
    raise nodes.SkipNode


def setup(app: Sphinx) -> dict[str, bool]:
    """Give Sphinx the renderer."""
    app.add_html_math_renderer("mathml", (_inline, None), (_block, None))
    return {"parallel_read_safe": True, "parallel_write_safe": True}
