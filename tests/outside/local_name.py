#!/usr/bin/env python3
"""Two machines of one network, made of network namespaces of our own: a server tells its name by multicast DNS, and
another machine finds it by that name and is answered; at another address it is found there, and says that it moved.

The messages are put together and read here by RFC 1035 (section 4.1) and RFC 6762, not by the library that the server
tells its name with. Needs root and `ip`. Nothing leaves the namespaces.

    local_name.py COURSEBOOK
"""

import os
import signal
import socket
import struct
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request

BOX, PHONE = "coursebook-box", "coursebook-phone"
GROUP = ("224.0.0.251", 5353)
NAME = "coursebook.local"


def ip(*words):
    subprocess.run(["ip", *words], check=True)


def lay_the_network():
    for space in (BOX, PHONE):
        ip("netns", "add", space)
        ip("-n", space, "link", "set", "lo", "up")
    ip("link", "add", "cbbox", "netns", BOX, "type", "veth", "peer", "name", "cbphone", "netns", PHONE)
    ip("-n", BOX, "link", "set", "cbbox", "up")
    ip("-n", PHONE, "link", "set", "cbphone", "up")
    ip("-n", PHONE, "addr", "add", "192.0.2.2/24", "dev", "cbphone")
    for space, device in ((BOX, "cbbox"), (PHONE, "cbphone")):
        ip("-n", space, "route", "add", "224.0.0.0/4", "dev", device)


def clear_the_network():
    for space in (BOX, PHONE):
        subprocess.run(["ip", "netns", "del", space], check=False, stderr=subprocess.DEVNULL)


def name_bytes(name):
    return b"".join(bytes([len(part)]) + part.encode() for part in name.split(".")) + b"\0"


def read_name(message, at):
    parts, end = [], None
    for _ in range(64):
        length = message[at]
        if length >= 0xC0:
            end = end or at + 2
            at = struct.unpack("!H", message[at : at + 2])[0] & 0x3FFF
        elif length == 0:
            return ".".join(parts), end or at + 1
        else:
            parts.append(message[at + 1 : at + 1 + length].decode())
            at += 1 + length
    raise ValueError("a name without end")


def addresses(message, name):
    """The A records of a name in one message."""
    _, _, questions, answers, authority, more = struct.unpack("!6H", message[:12])
    at, found = 12, []
    for _ in range(questions):
        _, at = read_name(message, at)
        at += 4
    for _ in range(answers + authority + more):
        of, at = read_name(message, at)
        kind, _, _, length = struct.unpack("!HHIH", message[at : at + 10])
        at += 10
        if kind == 1 and of.lower() == name:
            found.append(socket.inet_ntoa(message[at : at + length]))
        at += length
    return found


def ask(name):
    """Run on the phone: asks for the name up to twenty times, half a second apart."""
    asked = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
    asked.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    asked.bind(("192.0.2.2", 0))
    asked.settimeout(0.5)
    # One question, type A, class IN with the bit that asks for an answer to this socket alone (RFC 6762, 5.4).
    question = struct.pack("!6H", 0, 0, 1, 0, 0, 0) + name_bytes(name) + struct.pack("!2H", 1, 0x8001)
    for _ in range(20):
        asked.sendto(question, GROUP)
        try:
            found = addresses(asked.recv(9000), name)
        except TimeoutError:
            continue
        if found:
            return found
    return []


def status(address):
    request = urllib.request.Request(f"http://{address}:8080/", headers={"Host": f"{NAME}:8080"})
    try:
        return urllib.request.urlopen(request, timeout=5).status
    except urllib.error.HTTPError as error:
        return error.code


def on_the_phone(*words):
    out = subprocess.run(
        ["ip", "netns", "exec", PHONE, sys.executable, __file__, *words], check=True, capture_output=True, text=True
    )
    return out.stdout.split()


def serve(binary, folder, *more):
    told = open(os.path.join(folder, "told"), "w")
    return subprocess.Popen(
        ["ip", "netns", "exec", BOX, binary, "serve", "--listen", "0.0.0.0:8080", "--data", folder, *more], stdout=told
    )


def stop(server):
    server.send_signal(signal.SIGTERM)
    server.wait(timeout=20)


def told(folder):
    with open(os.path.join(folder, "told")) as words:
        return words.read()


def main(binary):
    clear_the_network()
    lay_the_network()
    try:
        with tempfile.TemporaryDirectory() as folder:
            for address in ("192.0.2.7", "192.0.2.9"):
                ip("-n", BOX, "addr", "flush", "dev", "cbbox")
                ip("-n", BOX, "addr", "add", f"{address}/24", "dev", "cbbox")
                ip("-n", BOX, "route", "replace", "224.0.0.0/4", "dev", "cbbox")
                server = serve(binary, folder)
                try:
                    found = on_the_phone("ask")
                    assert found == [address], f"{NAME} is at {found}, not at {address}"
                    # 401 is the page for strangers: the name is one of ours. 421 would be the answer to another's.
                    answer = on_the_phone("status", address)
                    assert answer in (["200"], ["401"], ["403"]), f"the server answers {answer} under its name"
                finally:
                    stop(server)
                moved = [line for line in told(folder).splitlines() if line.startswith("THE ADDRESS HAS CHANGED")]
                assert len(moved) == (address == "192.0.2.9"), told(folder)
                assert all("192.0.2.7:8080" in line for line in moved), moved
            server = serve(binary, folder, "--no-name")
            try:
                time.sleep(1)
                assert on_the_phone("ask") == [], "a server told its name although it was asked not to"
            finally:
                stop(server)
    finally:
        clear_the_network()
    print(f"{NAME} was found at both addresses, and the move was told")


if __name__ == "__main__":
    if sys.argv[1] == "ask":
        print(*ask(NAME))
    elif sys.argv[1] == "status":
        print(status(sys.argv[2]))
    else:
        main(os.path.abspath(sys.argv[1]))
