#!/usr/bin/env python3
"""A desk made of its protocol sheet.

Answers OSC questions over UDP with the literal bytes of a sheet, and with nothing else: no encoder, no state. Standard library
only, and nothing shared with the program under test, so that an error in one cannot hide in the other.

    sheet_peer.py SHEET [--port N] [--wrong SETTING=HEXANSWER]... [--log FILE] [--seconds N]
    sheet_peer.py SHEET --self-test

Prints `READY <port>` when it listens (127.0.0.1 only). Ends when standard input ends or after --seconds (60).
"""

import argparse
import os
import re
import select
import socket
import struct
import sys
import time

MOST_BYTES = 65536


class SheetError(Exception):
    """What is wrong with a sheet, with its line."""


def from_hex(text):
    """The bytes of hex digits that may be parted by blanks."""
    digits = "".join(text.split())
    if not re.fullmatch(r"([0-9A-Fa-f]{2})+", digits):
        raise ValueError("not pairs of hex digits: %r" % text)
    return bytes.fromhex(digits)


def read_sheet(path):
    """A list of (line number, setting, value, question, answer)."""
    rows = []
    with open(path, encoding="utf-8") as lines:
        for number, line in enumerate(lines, 1):
            line = line.strip()
            if not line or line.startswith("#"):
                continue
            columns = [column.strip() for column in line.split("|")]
            if len(columns) != 4:
                raise SheetError("%s:%d: %d columns, expected setting | value | question | answer" % (path, number, len(columns)))
            try:
                rows.append((number, columns[0], columns[1], from_hex(columns[2]), from_hex(columns[3])))
            except ValueError as error:
                raise SheetError("%s:%d: %s" % (path, number, error)) from None
    if not rows:
        raise SheetError("%s: no rows" % path)
    return rows


def answers_of(rows, wrong):
    """Question bytes to answer bytes, with the answers that --wrong replaces."""
    answers = {}
    question_of = {}
    for number, setting, _, question, answer in rows:
        if answers.setdefault(question, answer) != answer:
            raise SheetError("line %d: another answer than an earlier row to the same question" % number)
        question_of[setting] = question
    for pair in wrong:
        setting, separator, text = pair.partition("=")
        if not separator or setting not in question_of:
            raise SheetError("--wrong %s: no row of the sheet has this setting" % pair)
        try:
            answers[question_of[setting]] = from_hex(text)
        except ValueError as error:
            raise SheetError("--wrong %s: %s" % (setting, error)) from None
    return answers


def serve(answers, port, seconds, log):
    """Answers until standard input ends or the time is over."""
    end = time.monotonic() + seconds
    inputs = [sys.stdin] if sys.stdin else []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as peer:
        peer.bind(("127.0.0.1", port))
        peer.setblocking(False)
        print("READY %d" % peer.getsockname()[1], flush=True)
        while True:
            left = end - time.monotonic()
            if left <= 0:
                return
            ready, _, _ = select.select([peer] + inputs, [], [], left)
            if peer in ready:
                answer_all(peer, answers, log)
            if any(item in ready and not os.read(item.fileno(), 4096) for item in inputs):
                return


def answer_all(peer, answers, log):
    """Empties the socket; what is not a question of the sheet is logged and left unanswered."""
    for _ in range(1024):
        try:
            data, sender = peer.recvfrom(MOST_BYTES)
        except (BlockingIOError, InterruptedError):
            return
        except OSError:
            continue                       # the other side closed its port; that is no reason to stop
        if log:
            log.write(data.hex() + "\n")
            log.flush()
        answer = answers.get(data)
        if answer is not None:
            try:
                peer.sendto(answer, sender)
            except OSError:
                pass                       # a full or closed receiver loses the answer, as on a real network


def read_string(data, at):
    """An OSC string: its text and where the next item begins."""
    end = data.index(b"\0", at)
    after = (end // 4 + 1) * 4
    if after > len(data) or any(data[end:after]):
        raise ValueError("string at byte %d is not filled up with nulls" % at)
    return data[at:end].decode("ascii"), after


def decode(data):
    """An OSC message: address and list of arguments. Only what a sheet may hold; anything else is an error."""
    if len(data) % 4:
        raise ValueError("%d bytes, no multiple of four" % len(data))
    address, at = read_string(data, 0)
    tags, at = read_string(data, at)
    if not re.fullmatch(r"(/[!-~]+)+", address) or re.search(r"[#*,?\[\]{}]|//", address):
        raise ValueError("no OSC address: %r" % address)
    if not tags.startswith(","):
        raise ValueError("no type tag string after %s" % address)
    arguments = []
    for tag in tags[1:]:
        if tag in "TF":
            arguments.append(tag == "T")
        elif tag == "s":
            text, at = read_string(data, at)
            arguments.append(text)
        elif tag in "if":
            if at + 4 > len(data):
                raise ValueError("%s ends inside an argument" % address)
            arguments.append(struct.unpack_from(">" + tag, data, at)[0])
            at += 4
        else:
            raise ValueError("%s has an argument of type %s" % (address, tag))
    if at != len(data):
        raise ValueError("%s has %d bytes too many" % (address, len(data) - at))
    return address, arguments


def self_test(rows):
    """A list of complaints about the sheet."""
    complaints = []
    settings = set()
    for number, setting, value, question, answer in rows:
        try:
            asked, none = decode(question)
            answered, arguments = decode(answer)
            if question != asked.encode("ascii") + b"\0" * (4 - len(asked) % 4) + b",\0\0\0" or none:
                complaints.append("line %d: the question is more than an address and an empty type tag string" % number)
            if answered != asked:
                complaints.append("line %d: asked %s, answered %s" % (number, asked, answered))
            if not arguments:
                complaints.append("line %d: the answer holds no value" % number)
        except (ValueError, UnicodeDecodeError) as error:
            complaints.append("line %d: %s" % (number, error))
        if setting in settings:
            complaints.append("line %d: %s has a row already" % (number, setting))
        if not re.fullmatch(r"identify|[a-z-]+(/[a-z0-9-]+)+", setting):
            complaints.append("line %d: no setting path: %r" % (number, setting))
        if not value:
            complaints.append("line %d: no value" % number)
        settings.add(setting)
    if "identify" not in settings:
        complaints.append("no row `identify`")
    return complaints


def main():
    options = argparse.ArgumentParser(description="A desk made of its protocol sheet (OSC over UDP, loopback only).")
    options.add_argument("sheet")
    options.add_argument("--port", type=int, default=0)
    options.add_argument("--wrong", action="append", default=[], metavar="SETTING=HEXANSWER")
    options.add_argument("--log", metavar="FILE")
    options.add_argument("--seconds", type=float, default=60)
    options.add_argument("--self-test", action="store_true")
    given = options.parse_args()
    try:
        rows = read_sheet(given.sheet)
        answers = answers_of(rows, given.wrong)
        if given.self_test:
            complaints = self_test(rows)
            for complaint in complaints:
                print(complaint)
            print("%d rows, %d questions, %d complaints" % (len(rows), len(answers), len(complaints)))
            return 1 if complaints else 0
        if given.log:
            with open(given.log, "a", encoding="ascii") as log:
                serve(answers, given.port, given.seconds, log)
        else:
            serve(answers, given.port, given.seconds, None)
    except (SheetError, OSError, UnicodeDecodeError) as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
