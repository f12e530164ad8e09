# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads a calendar file by the letter of RFC 5545 and prints what it holds, one value a line; any
breach ends it with a message. Written from the RFC, of nothing but Python's own library."""
import datetime
import re
import sys

NAME = r"[A-Za-z0-9-]+"  # 3.1: iana-token, x-name
SAFE = r'[\t\x20\x21\x23-\x2b\x2d-\x39\x3c-\x7e\x80-\U0010ffff]*'  # SAFE-CHAR
QSAFE = r'"[\t\x20\x21\x23-\x7e\x80-\U0010ffff]*"'
LINE = re.compile(rf"^({NAME})((?:;{NAME}=(?:{QSAFE}|{SAFE})(?:,(?:{QSAFE}|{SAFE}))*)*):(.*)$", re.S)
TEXT = {"SUMMARY", "DESCRIPTION", "UID", "NAME", "PRODID", "VERSION"}
# 3.6.1: properties of an event that come once at most, and those that must be there.
ONCE = {"UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "DURATION", "CLASS",
        "CREATED", "GEO", "LAST-MODIFIED", "LOCATION", "ORGANIZER", "PRIORITY", "SEQUENCE", "STATUS",
        "TRANSP", "URL", "RECURRENCE-ID"}
EVENT = ONCE | {"CATEGORIES", "COMMENT", "ATTENDEE", "ATTACH", "RESOURCES"}


def fail(line, words):
    sys.exit(f"line {line}: {words}")


def unfold(data):
    """3.1: lines end with CRLF, hold 75 octets at most, and go on after CRLF and one blank."""
    if not data.endswith(b"\r\n"):
        fail(0, "the last line does not end with CRLF")
    physical = data[:-2].split(b"\r\n")
    lines = []
    for number, raw in enumerate(physical, 1):
        if b"\r" in raw or b"\n" in raw:
            fail(number, "a bare CR or LF")
        if len(raw) > 75:
            fail(number, f"{len(raw)} octets")
        if re.search(rb"[\x00-\x08\x0a-\x1f\x7f]", raw):
            fail(number, "a control character")
        if raw[:1] in (b" ", b"\t"):
            if not lines:
                fail(number, "begins with a fold")
            lines[-1][1] += raw[1:]
            raw[1:].decode("utf-8")  # folds do not part a character, for readers that unfold late
        elif not raw:
            fail(number, "an empty line")
        else:
            lines.append([number, raw])
    return [(number, raw.decode("utf-8")) for number, raw in lines]


def unescape(number, text):
    """3.3.11: backslash only before \\ ; , n N; bare ; and , not in TEXT."""
    out, i = [], 0
    while i < len(text):
        c = text[i]
        if c == "\\":
            i += 1
            if i == len(text) or text[i] not in "\\;,nN":
                fail(number, "a bad escape")
            c = "\n" if text[i] in "nN" else text[i]
        elif c in ";,":
            fail(number, "a bare ; or , in a text")
        out.append(c)
        i += 1
    return "".join(out)


def read_time(number, text, utc):
    match = re.fullmatch(r"(\d{8})T(\d{6})(Z?)", text)
    if not match or bool(match[3]) != utc:
        fail(number, f"{text} is not a time of the form wanted")
    return datetime.datetime.strptime(match[1] + match[2], "%Y%m%d%H%M%S")


def check_alarm(number, properties):
    """3.6.6: a display alarm has one ACTION, DESCRIPTION and TRIGGER."""
    names = [name for _, name, _ in properties]
    if sorted(names) != ["ACTION", "DESCRIPTION", "TRIGGER"]:
        fail(number, f"an alarm of {names}")
    values = {name: value for _, name, value in properties}
    if values["ACTION"] != "DISPLAY":
        fail(number, "the alarm's action")
    if not re.fullmatch(r"-?P(?:\d+W|(?:\d+D)?(?:T(?=\d)(?:\d+H)?(?:\d+M)?(?:\d+S)?)?)",
                        values["TRIGGER"]):
        fail(number, f"trigger {values['TRIGGER']}")
    print("alarm", values["TRIGGER"])


def check_event(number, properties, uids):
    names = [name for _, name, _ in properties]
    for name in names:
        if name not in EVENT:
            fail(number, f"{name} in an event")
        if name in ONCE and names.count(name) > 1:
            fail(number, f"{name} twice")
    values = {name: (at, value) for at, name, value in properties}
    for name in ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY"):
        if name not in values:
            fail(number, f"an event without {name}")
    uid = unescape(*values["UID"])
    if uid in uids:
        fail(number, "a UID twice")
    uids.add(uid)
    read_time(*values["DTSTAMP"], utc=True)
    start = read_time(*values["DTSTART"], utc=False)
    end = read_time(*values["DTEND"], utc=False)
    if end <= start:
        fail(number, "ends before it begins")  # 3.8.2.2
    print("event", uid, start.isoformat(), end.isoformat(), values["DTSTAMP"][1])
    for name in ("SUMMARY", "DESCRIPTION", "CATEGORIES"):
        if name in values:
            print(name.lower(), repr(unescape(*values[name])))


def check(lines):
    """3.4 and 3.6: one calendar with PRODID and VERSION, then components, properly nested."""
    stack, uids, head = [], set(), []
    for number, line in lines:
        match = LINE.match(line)
        if not match:
            fail(number, f"not a content line: {line!r}")
        name, value = match[1].upper(), match[3]
        if name == "BEGIN":
            allowed = {0: {"VCALENDAR"}, 1: {"VEVENT"}, 2: {"VALARM"}}.get(len(stack), set())
            if value not in allowed:
                fail(number, f"{value} inside {[kind for kind, _, _ in stack]}")
            stack.append((value, number, []))
        elif name == "END":
            if not stack or stack[-1][0] != value:
                fail(number, f"END:{value}")
            kind, begin, properties = stack.pop()
            if kind == "VALARM":
                check_alarm(begin, properties)
            elif kind == "VEVENT":
                check_event(begin, properties, uids)
            else:
                head = [entry for _, entry, _ in properties]
        elif not stack:
            fail(number, "outside the calendar")
        else:
            if name in TEXT:
                unescape(number, value)
            stack[-1][2].append((number, name, value))
    if stack or head.count("PRODID") != 1 or head.count("VERSION") != 1:
        fail(0, "the calendar is not whole")


check(unfold(open(sys.argv[1], "rb").read()))
