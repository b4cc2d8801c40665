"""The server of the page: who gets in, what is refused, and what it lets a page do. Asked over plain HTTP."""

import http.client
import json
import threading
from urllib.parse import quote

import pytest

import wheelrate as wr
from wheelrate._explore.server import _MOST_BYTES, Server


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    file = tmp_path_factory.mktemp("served") / "patrol.toml"
    text = wr.demo_file().replace('"Ridge patrol 300"', '"<script>alert(1)</script>"')
    file.write_text(text, encoding="utf-8")
    with Server(file) as served:
        thread = threading.Thread(target=served.serve_forever, daemon=True)
        thread.start()
        yield served
        served.shutdown()
        thread.join()


def request(server, method="GET", path="", *, token=None, body=None, **headers):
    connection = http.client.HTTPConnection(*server.server_address[:2], timeout=60)
    sent = {"Host": f"127.0.0.1:{server.server_address[1]}"}
    if method == "POST":
        sent |= {"Origin": f"http://{sent['Host']}", "Content-Type": "application/json"}
    sent |= {name.replace("_", "-"): value for name, value in headers.items()}
    sent = {name: value for name, value in sent.items() if value is not None}
    connection.putrequest(method, f"/{server.token if token is None else token}/{path}", skip_host=True)
    data = json.dumps(body).encode() if body is not None and not isinstance(body, bytes) else body
    for name, value in sent.items():
        connection.putheader(name, value)
    if data is not None and "Content-Length" not in sent:
        connection.putheader("Content-Length", str(len(data)))
    connection.endheaders(data)
    answer = connection.getresponse()
    found = answer.status, answer.read(), answer.headers
    connection.close()
    return found


def test_listens_on_this_machine_only(server):
    assert server.server_address[0] == "127.0.0.1"


def test_the_page_and_its_parts_are_there(server):
    for name, kind in (
        ("", "text/html"),
        ("explore.js", "text/javascript"),
        ("page.js", "text/javascript"),
        ("explore.css", "text/css"),
    ):
        status, body, headers = request(server, path=name)
        assert (status, headers["Content-Type"].split(";")[0]) == (200, kind)
        assert body
    assert b"export function mount" in request(server, path="explore.js")[1]


def test_the_page_may_load_nothing_from_elsewhere(server):
    _, body, headers = request(server)
    policy = dict(part.strip().split(" ", 1) for part in headers["Content-Security-Policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == "'self'"
    assert policy["frame-ancestors"] == "'none'"
    assert headers["Referrer-Policy"] == "no-referrer"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert b"http" not in body


def test_names_go_out_as_data(server):
    assert b"alert" not in request(server)[1]
    status, body, headers = request(server, "POST", "ask/start", body={})
    assert (status, headers["Content-Type"]) == (200, "application/json")
    assert json.loads(body)["name"] == "<script>alert(1)</script>"


@pytest.mark.parametrize("token", ["", "x", "%00", "é"])
def test_nothing_is_said_without_the_token(server, token):
    for method, path in (("GET", ""), ("GET", "explore.js"), ("POST", "ask/start")):
        status, body, _ = request(server, method, path, token=quote(token), body={} if method == "POST" else None)
        assert status == 404
        assert server.token.encode() not in body


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:80", "127.0.0.1", "localhost:1", "127.0.0.1.evil.example:80", None]
)
def test_another_host_is_refused(server, host):
    assert request(server, Host=host)[0] == 403
    assert request(server, "POST", "ask/start", body={}, Host=host, Origin=f"http://{host}")[0] == 403


def test_localhost_is_this_host(server):
    host = f"localhost:{server.server_address[1]}"
    assert request(server, Host=host)[0] == 200
    assert request(server, "POST", "ask/start", body={}, Host=host, Origin=f"http://{host}")[0] == 200


@pytest.mark.parametrize("origin", [None, "null", "http://evil.example", "https://127.0.0.1", "http://127.0.0.1"])
def test_a_question_of_another_page_is_refused(server, origin):
    assert request(server, "POST", "ask/start", body={}, Origin=origin)[0] == 403


@pytest.mark.parametrize(
    ("status", "options"),
    [
        (415, {"Content_Type": "text/plain", "body": {}}),
        (415, {"Content_Type": "application/x-www-form-urlencoded", "body": b"a=1"}),
        (400, {"body": b"{"}),
        (400, {"body": b"[" * 100_000}),
        (411, {"body": b"{}", "Content_Length": "-1"}),
        (411, {"body": b"{}", "Content_Length": "²"}),
        (413, {"body": b"", "Content_Length": str(_MOST_BYTES + 1)}),
        (413, {"body": b"", "Content_Length": "9" * 40}),
    ],
)
def test_what_is_no_question_is_refused(server, status, options):
    options = {
        name: value.encode("utf-8").decode("latin-1") if isinstance(value, str) else value
        for name, value in options.items()
    }
    assert request(server, "POST", "ask/start", **options)[0] == status


@pytest.mark.parametrize(
    "path", ["ask/run", "ask/", "start", "explore.js", "../desk.py", "..%2fdesk.py", "//", "ask/start/x"]
)
def test_nothing_else_can_be_asked(server, path):
    assert request(server, "POST", path, body={})[0] == 404
    if path != "explore.js":
        assert request(server, path=path)[0] == 404


def test_other_methods_are_none(server):
    for method in ("PUT", "DELETE", "OPTIONS", "PATCH"):
        assert request(server, method, "ask/start", body={})[0] == 501


def test_a_refused_question_ends_its_connection(server):
    _, _, headers = request(server, "POST", "ask/start", body={}, Origin="http://evil.example")
    assert headers["Connection"] == "close"


def test_a_file_that_came_to_have_faults_says_where(tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text(wr.demo_file(), encoding="utf-8")
    with Server(file) as other:
        file.write_text("format = 1\n[bike]\nname = 3\n", encoding="utf-8")
        (fault,) = other.desk.ask("start", {})["faults"]
    assert fault["message"].startswith("bad.toml:3:")


def test_listening_to_all_goes_by_numbers_and_not_by_names(tmp_path):
    file = tmp_path / "patrol.toml"
    file.write_text(wr.demo_file(), encoding="utf-8")
    with Server(file, host="0.0.0.0") as other:
        port = other.server_address[1]
        assert other.knows(f"192.168.1.7:{port}")
        assert not other.knows(f"patrol.example:{port}")
        assert other.seen_from_elsewhere().endswith(f":{port}/{other.token}/")
