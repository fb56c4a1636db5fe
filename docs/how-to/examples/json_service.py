"""A JSON service: a request comes in as JSON, a plan or an error with its parts goes out. The scenario is invented.

Run it with ``flask --app docs/how-to/examples/json_service.py run``; the text that comes in is bounded before anything
is built from it.
"""

from __future__ import annotations

from flask import Flask, Response, request

import turnback as tb

app = Flask(__name__)
app.config["MAX_CONTENT_LENGTH"] = 64 * 1024


@app.post("/plan")
def plan() -> Response:
    """Plan the request in the body."""
    asked = tb.from_json(request.get_data(as_text=True))
    if not isinstance(asked, tb.Request):
        raise tb.InputError("a request is wanted here", field="kind", instead="Send what tb.to_json(request) writes.")
    return Response(tb.to_json(tb.plan_request(asked)), mimetype="application/json")


@app.errorhandler(tb.TurnbackError)
def refused(error: tb.TurnbackError) -> tuple[dict[str, str], int]:
    """Hand the parts of the error over, so that the caller can show them in words of its own."""
    parts = {"error": type(error).__name__, "problem": error.problem, "field": error.field, "value": error.value}
    return {**parts, "bound": error.bound, "citation": error.citation, "instead": error.instead}, 400


def main() -> str:
    """Ask the service once, without a network."""
    asked = tb.Request("1/2 in 6x19 IWRC EIP", tb.ThimbleEye(), "u-bolt", "us-ca-8-8497")
    client = app.test_client()
    good = client.post("/plan", data=tb.to_json(asked))
    bad = client.post("/plan", data="{")
    made = tb.from_json(good.get_data(as_text=True))
    assert isinstance(made, tb.Plan)
    return f"{good.status_code} {made.clip_count} clips; {bad.status_code} {bad.get_json()['error']}"


if __name__ == "__main__":
    print(main())
