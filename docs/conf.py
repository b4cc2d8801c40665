"""Sphinx settings. `make docs` gathers the pages into out/docs/source first (site/gather.py) and builds from there."""

import hashlib
import os
import sys
from pathlib import Path

import wheelrate

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE / "site"))

project = "wheelrate"
author = "the wheelrate authors"
project_copyright = "the wheelrate authors; MIT or Apache-2.0"
version = release = wheelrate.__version__

extensions = [
    "myst_nb",
    "sphinx.ext.autodoc",
    "numpydoc",
    "sphinx_click",
    "sphinx_mathml",
    "sphinx_picture_texts",
    "sphinx_stub_types",
]
html_theme = "pydata_sphinx_theme"
html_title = "wheelrate"
html_static_path = ["static"]
html_css_files = ["wheelrate.css"]
html_show_sourcelink = False
html_copy_source = False
html_theme_options = {
    "navigation_with_keys": False,
    "show_prev_next": False,
    "navbar_persistent": ["search-button"],
    "show_toc_level": 2,
    "header_links_before_dropdown": 6,
    "footer_start": ["copyright"],
    "footer_end": [],
    "secondary_sidebar_items": {"**": ["page-toc"], "index": []},
}
html_sidebars = {"index": [], "validation": []}
html_math_renderer = "mathml"
# What nobody wrote as code is code all the same in a docstring: `details`.
default_role = "literal"
# What is typed is meant: --what-if is no dash.
smartquotes = False
nitpicky = True
suppress_warnings = ["mystnb.unknown_mime_type"]

toc_object_entries = False
autodoc_member_order = "alphabetical"
autodoc_class_signature = "mixed"
numpydoc_show_class_members = False
numpydoc_class_members_toctree = False

myst_enable_extensions = ["colon_fence", "deflist", "dollarmath", "fieldlist"]
myst_heading_anchors = 3

# Notebooks and how-tos are Python files in jupytext's percent format; each runs in an empty folder.
nb_custom_formats = {".py": ["jupytext.reads", {"fmt": "py:percent"}]}
nb_execution_mode = "cache"
nb_execution_in_temp = True
nb_execution_timeout = 600
nb_execution_raise_on_error = True
nb_merge_streams = True
nb_number_source_lines = False


def package_digest() -> str:
    """Work out a digest of the installed package, so that no output of another build is shown."""
    digest = hashlib.sha256()
    folder = Path(wheelrate.__file__).parent
    for path in sorted(folder.rglob("*")):
        if path.suffix in {".py", ".so", ".pyd", ".j2"}:
            digest.update(path.read_bytes())
    return digest.hexdigest()[:16]


nb_execution_cache_path = os.path.join(os.environ.get("WHEELRATE_DOCS", "out/docs"), "executed", package_digest())
