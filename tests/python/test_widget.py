"""The widget's module keeps to what anywidget documents: https://anywidget.dev/en/afm (read in 2026)."""

import re

from wheelrate._explore.server import module

#: Members of the model that any front end offers.
DOCUMENTED = {"get", "set", "on", "off", "send", "save_changes", "widget_manager"}


def test_the_module_uses_of_a_model_only_what_every_front_end_offers():
    text = module()
    used = set(re.findall(r"\bmodel\.(\w+)", text))
    assert {"on", "off", "send"} <= used <= DOCUMENTED - {"widget_manager"}
    assert set(re.findall(r"model\.(?:on|off)\(\"([^\"]+)\"", text)) == {"msg:custom"}
    # Nothing of one front end: no module of others, no loader, no global of Jupyter.
    assert not re.findall(r"^\s*import\b|\brequire\(|\bJupyter\b|\bjupyterlab\b|acquireVsCodeApi", text, re.MULTILINE)
    assert re.search(r"export default \{[^}]*\brender\b", text)
