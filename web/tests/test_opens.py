"""The page opens: a picture, no error, little to fetch, nothing asked of anybody else."""

import re
from urllib.request import Request, urlopen

import native
from conftest import SITE

# What a link costs: everything that is fetched before the first picture, compressed, in bytes. The page that is quick to
# build is not made small.
MOST_BYTES = 6_000_000 if SITE.name == "quick" else 3_000_000


def test_the_built_in_scene_is_shown_and_little_was_fetched(opened):
    desk = opened()
    line = desk.settled()
    assert line["title"] == "Thirty-degree teaching setup (invented)"
    assert line["note"] is None and line["file_note"] is None and line["asking"] is None
    assert line["title"] in desk.page.title()
    assert desk.page.evaluate("drawnBy") == ["webgpu"]
    # The numbers are those of the command line, to what a picture's 32 bits never were: all of them.
    native_cusps = native.cusps(native.scene("thirty_degree"), "protrusive")
    shown = {
        (cusp["tooth"], cusp["name"]): (cusp["last_separation_mm"], cusp["least_clearance_mm"])
        for cusp in line["cusps"]
    }
    assert shown.keys() == native_cusps.keys()
    for cusp, numbers in shown.items():
        for one, other in zip(numbers, native_cusps[cusp], strict=True):
            assert abs(one - other) < 1e-12, (cusp, numbers, native_cusps[cusp])

    fetched = {request.url: request.sizes()["responseBodySize"] for request in desk.requests}
    assert any(url.endswith(".wasm") for url in fetched), fetched
    assert 0 < sum(fetched.values()) <= MOST_BYTES, fetched


def headers(address, accepted):
    with urlopen(Request(address, headers={"Accept-Encoding": accepted})) as answer:
        return dict(answer.headers)


def test_the_program_is_sent_compressed_and_by_its_type(opened, site):
    desk = opened()
    program = next(request.url for request in desk.requests if request.url.endswith(".wasm"))
    # What a browser on this machine, or by https, accepts; what one by http does; what a script does.
    sent = {accepted: headers(program, accepted) for accepted in ("gzip, deflate, br", "gzip, deflate", "identity")}
    assert [told.get("Content-Encoding") for told in sent.values()] == ["br", "gzip", None]
    weights = [int(told["Content-Length"]) for told in sent.values()]
    assert weights == sorted(set(weights)), weights
    for told in sent.values():
        assert told["Content-Type"] == "application/wasm"
        assert told["X-Content-Type-Options"] == "nosniff"
        assert told["Cache-Control"] == "no-cache"


def test_the_page_forbids_what_it_does_not_need(opened, site):
    desk = opened()
    stated = desk.page.locator('meta[http-equiv="Content-Security-Policy"]').get_attribute("content")
    policy = {part.split()[0]: part.split()[1:] for part in stated.split(";") if part.strip()}
    assert policy["default-src"] == ["'none'"]
    assert not re.search(r"'unsafe-inline'|'unsafe-eval'|https?:|\*", stated), stated
    # A host that sends the header sends the same.
    assert " ".join(stated.split()) == headers(site, "identity")["Content-Security-Policy"]

    # And it is obeyed: no script in the text of the page, nothing fetched from elsewhere.
    refused = desk.page.evaluate(
        """async () => {
            const told = [];
            document.addEventListener("securitypolicyviolation", (event) => told.push(event.effectiveDirective));
            const script = document.createElement("script");
            script.textContent = "window.strange = true";
            document.head.append(script);
            const fetched = await fetch("http://127.0.0.1:9/").then(() => true, () => false);
            await new Promise((resolve) => setTimeout(resolve));
            return { told, strange: window.strange === true, fetched };
        }"""
    )
    assert not refused["strange"] and not refused["fetched"]
    assert {"script-src-elem", "connect-src"} <= set(refused["told"]), refused
    # Being refused is an error that the browser tells; it was asked for.
    assert len(desk.errors) >= 2 and all("Content Security Policy" in error for error in desk.errors), desk.errors
    desk.errors.clear()
