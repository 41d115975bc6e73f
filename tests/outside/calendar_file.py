"""Reads the calendar's file as another library does, and holds it against RFC 5545 and the board's own words.

Usage: calendar_file.py PROGRAM [--spoil]. PROGRAM is started with the demo job on loopback; a mix is told, and the file
is fetched as a helper would save it and as a calendar fetches it. With --spoil the file is spoilt in one way after the
other, and the run fails unless each is found out.
"""

import datetime
import http.cookiejar
import pathlib
import re
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.parse
import urllib.request

import icalendar

UTC = datetime.timezone.utc
LOT = "A12; grey, second\u00a0pallet"


class Browser:
    """One lead's browser at the box."""

    def __init__(self, base):
        self.base = base
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(jar)

    def get(self, path):
        with self.opener.open(self.base + path, timeout=15) as answer:
            return answer.read().decode()

    def post(self, path, **fields):
        """The address it leads to, and the page there."""
        form = urllib.parse.urlencode({"key": f"outside{time.monotonic_ns():020}", **fields}).encode()
        request = urllib.request.Request(self.base + path, form, {"Origin": self.base})
        with self.opener.open(request, timeout=15) as answer:
            return answer.geturl(), answer.read().decode()


def served(program, folder):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [program, "demo", "--listen", f"127.0.0.1:{port}", "--data", str(folder / "data")]
    server = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    browser = Browser(f"http://127.0.0.1:{port}")
    for _ in range(100):
        try:
            urllib.request.urlopen(browser.base + "/static/none", timeout=5)
        except urllib.error.HTTPError:
            return server, browser
        except OSError:
            time.sleep(0.1)
    server.kill()
    sys.exit("the server does not answer")


def files(browser):
    """The file of the demo job, what a calendar fetches, and when the next stage may start by the board."""
    asks = re.search(r'<form[^>]*action="/set-up/demo".*?</form>', browser.get("/set-up"), re.S).group(0)
    hidden = re.findall(r'name="(\w+)" value="([^"]*)"', asks)
    browser.post("/set-up/demo", **{name: value for name, value in hidden if name != "key"})
    job = re.search(r'href="(/jobs/[^/"]+)"', browser.get("/").replace("/jobs/new", "")).group(1)
    browser.post(f"{job}/batches/of/grout", lot=LOT)
    _, made = browser.post(f"{job}/calendar")
    feed = re.search(r"/calendar/[0-9a-f]{32}/en\.ics", made).group(0)
    stranger = urllib.request.urlopen(browser.base + feed, timeout=15).read().decode()
    return browser.get(f"{job}/calendar.ics"), stranger


def faults(raw):
    """What RFC 5545, or what the steps are to say, finds wrong."""
    wrong = []
    lines = raw.split("\r\n")
    if lines[-1] != "" or any("\n" in line or "\r" in line for line in lines):
        wrong.append("lines do not end in CRLF (3.1)")
    wrong += [f"a line of {len(line.encode())} octets (3.1)" for line in lines if len(line.encode()) > 75]
    try:
        calendar = icalendar.Calendar.from_ical(raw)
    except ValueError as error:
        return wrong + [f"not read: {error}"]
    if str(calendar.get("version")) != "2.0" or not calendar.get("prodid"):
        wrong.append("VERSION and PRODID are required (3.6)")
    if calendar.errors:
        wrong.append(f"calendar: {calendar.errors}")
    events = calendar.walk("VEVENT")
    uids = [str(event.get("uid")) for event in events]
    if len(set(uids)) != len(uids) or not all(uid.endswith("@coursebook") for uid in uids):
        wrong.append(f"UIDs are not one a step (3.8.4.7): {uids}")
    for event in events:
        wrong += [f"{event.get('summary')}: {says}" for says in event_faults(event)]
    mixes = [str(event.get("summary")) for event in events if "Batch" in str(event.get("summary"))]
    if len(mixes) != 2 or not all(mix.endswith(f"lot {LOT.replace(chr(160), ' ')}") for mix in mixes):
        wrong.append(f"the mix is not told as it was typed: {mixes}")
    if len(events) == len(mixes):
        wrong.append("no stage is in it")
    return wrong


def event_faults(event):
    if event.errors:
        yield f"{event.errors}"
        return
    for name in ("DTSTAMP", "DTSTART", "DTEND", "LAST-MODIFIED"):
        told = event.get(name)
        if told is None or getattr(told.dt, "tzinfo", None) is None or told.dt.utcoffset():
            yield f"{name} is no time in UTC (3.3.5)"
            return
    if event["DTEND"].dt <= event["DTSTART"].dt:
        yield "it ends before it starts (3.8.2.2)"
    if not isinstance(event.get("sequence"), int) or event["sequence"] < 1:
        yield "no SEQUENCE (3.8.7.4)"
    if event["DTSTAMP"].dt > datetime.datetime.now(UTC) + datetime.timedelta(seconds=5):
        yield "told in times to come (3.8.7.2)"
    alarms = event.walk("VALARM")
    if len(alarms) != 1:
        yield f"{len(alarms)} alarms"
    for alarm in alarms:
        if alarm.errors:
            yield f"{alarm.errors}"
            continue
        missing = [name for name in ("ACTION", "TRIGGER", "DESCRIPTION") if not alarm.get(name)]
        if missing or str(alarm["ACTION"]) != "DISPLAY":
            yield f"an alarm without {missing or 'DISPLAY'} (3.6.6)"
        elif not datetime.timedelta(hours=-1) <= alarm["TRIGGER"].dt <= datetime.timedelta(0):
            yield f"the alarm goes off at {alarm['TRIGGER'].dt}"


def spoilt(raw):
    """The file, spoilt in one way after the other."""
    yield "lines end in LF", raw.replace("\r\n", "\n")
    yield "unfolded", raw.replace("\r\n ", "")
    yield "no version", raw.replace("VERSION:2.0\r\n", "")
    yield "no UTC", re.sub(r"(DTSTART:\d{8}T\d{6})Z", r"\1", raw, count=1)
    yield "no stamp", re.sub(r"(BEGIN:VEVENT.*?\r\n)DTSTAMP:[^\r]*\r\n", r"\1", raw, count=1, flags=re.S)
    yield "no end", re.sub(r"DTEND:[^\r]*\r\n", "", raw, count=1)
    yield "an impossible day", re.sub(r"DTSTART:\d{4}\d{4}", "DTSTART:20260231", raw, count=1)
    yield "no sequence", re.sub(r"SEQUENCE:\d+\r\n", "", raw, count=1)
    yield "one UID twice", re.sub(r"(\nUID:)(?!alarm)[^\r]*", r"\1same@coursebook", raw)
    yield "not escaped", raw.replace("\\;", ";").replace("\\,", ",").replace("A12", "A13")
    yield "no alarm", re.sub(r"BEGIN:VALARM.*?END:VALARM\r\n", "", raw, count=1, flags=re.S)
    yield "an alarm of nothing", re.sub(r"TRIGGER[^\r]*\r\n", "", raw, count=1)
    yield "an alarm too late", re.sub(r"TRIGGER[^\r]*", "TRIGGER:PT3H", raw, count=1)
    yield "never ended", raw.replace("END:VCALENDAR\r\n", "")


def main():
    spoil = "--spoil" in sys.argv
    program = pathlib.Path(next(word for word in sys.argv[1:] if word != "--spoil")).resolve()
    with tempfile.TemporaryDirectory() as folder:
        server, browser = served(program, pathlib.Path(folder))
        try:
            file, fetched = files(browser)
        finally:
            server.terminate()
            server.wait(timeout=20)
    if spoil:
        ways = list(spoilt(file))
        missed = [way for way, raw in ways if raw == file or not faults(raw)]
        print(f"calendar, spoilt: {len(ways)} ways, not found out: {missed or 'none'}")
        sys.exit(bool(missed))
    wrong = faults(file) + (["a calendar fetches another file"] if fetched != file else [])
    for says in wrong:
        print(says, file=sys.stderr)
    print(f"calendar: {file.count('BEGIN:VEVENT')} steps, {len(wrong)} wrong")
    sys.exit(bool(wrong))


main()
