"""Texts that break programs, a few of each kind, collected for kitchens."""

from __future__ import annotations

# Each may stand in any field; none of them may come out as anything but itself.
MARKUP = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "</title></style><script>alert(1)</script>",
    "\"><svg onload=alert(1)>",
    "' onmouseover='alert(1)",
    "--><b>out</b><!--",
    "]]></p><b>out</b>",
    "&lt;b&gt; &amp;amp; &#60;",
    "{{ 7 * 7 }}",
    "{% include '/etc/passwd' %}",
    "${7*7} #{7*7} <%= 7*7 %>",
    "%s %n %(title)s {0} {title}",
    "javascript:alert(1)",
    "[soup](javascript:alert(1))",
    "![soup](file:///etc/passwd)",
    "@import url(https://example.org/x.css); } body { display: none",
    "\\\"; alert(1); //",
    "=HYPERLINK(\"https://example.org\")",
)
PATHS = (
    "../../../../etc/passwd",
    "..\\..\\secret",
    "/etc/passwd",
    "C:\\CON",
    "file:///etc/passwd",
    "rice.md/../../x",
    "~root/.ssh/id",
    "con.txt",
)
LETTERS = (
    "\u202e21 pus\u202c",
    "\u2066never closed",
    "\u200bzero\u200dwidth\ufeff",
    "Z̸̢̛̭͓a̶̪̱̅l̵̰̔g̴̻̈o̷͙͐" * 12,
    "👩🏽‍🍳🥄🍚",
    "مرحبا بالعالم",
    "ﷺ" * 20,
    "İIıi ẞß ﬁ",
    "𝟙 𝟚 ٣ ½⅓⅞",
    "\u00ad\u2028\u2029",
    "A\u030a\u0301" * 200,
    "\ue000\uffff",
)
NUMBERS = (
    "1e999", "-1e999", "NaN", "inf", "1/0", "0/0", "0", "-1", "1" + "0" * 4400, "1/" + "9" * 4400,
    "0." + "3" * 4400, "1" * 90000, "9" * 9 + "-" + "9" * 9, "0x10", "1_000", "1:30", "012",
    "1e-999", "٣", "1 1/2 1/2", "1 to 1e9",
)
AMOUNTS = tuple(
    f"{number} {rest}" for number in (
        "1e999", "1" + "0" * 4400, "1/0", "0", "-1", "99999999999999999999", "0.000000000000001")
    for rest in ("cups rice", "min", "lb", "°F", "portions", "days", "x 13 in"))
DATES = ("9999-12-31", "0001-01-01", "2999-12-31", "2027-02-30", "2027-9-8", "2027-09-18T10:00",
         "99999-01-01", "24:00", "23:59", "00:00")
LAYOUT = (
    "", " ", "\n", "\t", "- ", "- - - - - -", "? ", ": ", "# ", "---", "...", "|", ">-", "&a *a",
    "*a", "!!python/object/apply:os.system [ls]", "!!binary aGk=", "<<: *a", "%YAML 1.1", "@", "`",
    "[" * 5000, "{" * 5000, "[[[[[[[[[[[[[x]]]]]]]]]]]]]", "{a: {a: {a: {a: {a: {a: 1}}}}}}",
    "\"unclosed", "'unclosed", "\"\\ud800\"", "\"\\0\"", "\"\\L\"", "null", "~", "yes", "no",
    "[]", "{}", "[null, ~, [], {}]", "1. " * 3000, "> " * 3000, "*" * 5000, "[" * 3000 + "](",
    "![" * 3000,
    "`" * 5000, "&" * 5000, "a " * 5000, "_a" * 3000, "<" * 5000, "\\" * 5000, "word" * 25000,
)

PIECES = (*MARKUP, *PATHS, *LETTERS, *NUMBERS, *AMOUNTS, *DATES, *LAYOUT, "\x00", "\x1b[2J", "\r",
          "\x85", "\ud800")
"""All of them, and single signs that no text file may hold."""
