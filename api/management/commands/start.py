"""`manage.py start`: the whole service from one command on one machine, with an invented demo on an empty folder."""

from __future__ import annotations

import datetime
import fcntl
import os
import shlex
import socket
import sys
import threading
import urllib.error
import urllib.request
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from api import demo
from api.environment import is_loopback
from api.isolation import guard
from api.supervisor import Child, supervise
from estimating.work.stopping import Stopping, stopping_by_signal
from rates.queries.companies import any_company, invented_company


class Command(BaseCommand):
    help = "Migrates, loads the invented demo company on an empty data folder, serves the API and works on runs."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--host", default="127.0.0.1")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--data", metavar="DIR", help="data folder; DATA_DIR if absent")
        parser.add_argument("--no-demo", action="store_true", help="load no demo company")
        parser.add_argument("--serve-demo", action="store_true", help="let other machines reach the demo company")

    def handle(self, *args: Any, **options: Any) -> None:
        folder: Path = settings.DATA_DIR
        os.umask(0o077)
        lock = lock_folder(folder)
        folder.chmod(0o700)
        refuse_taken_port(options["host"], options["port"])
        if connection.vendor == "postgresql":
            guard()  # its tables are migrated by another role
        else:
            call_command("migrate", interactive=False, verbosity=0)
        self.prepare_demo(folder, options)
        stop = stopping_by_signal()
        children = make_children(options["host"], options["port"], lock)
        greeter = threading.Thread(target=self.greet, args=(options, folder, stop))
        greeter.start()
        try:
            supervise(children, stop)
        finally:
            stop.set()
            greeter.join()  # a thread that is still at work while the interpreter ends may hold a lock for ever
        self.stdout.write("Stopped.")

    def prepare_demo(self, folder: Path, options: dict[str, Any]) -> None:
        """Loads the demo company into an empty service; CommandError where other machines could reach it."""
        wanted = not options["no_demo"] and not any_company()
        if (wanted or invented_company() is not None) and not is_loopback(options["host"]):
            if not options["serve_demo"]:
                raise CommandError(
                    f"The demo company's keys lie in this folder, so {options['host']} is refused. Use --no-demo on an "
                    "empty folder, or --serve-demo if other machines may reach it."
                )
        if wanted:
            demo.load(keys=folder, now=datetime.datetime.now(datetime.UTC))

    def greet(self, options: dict[str, Any], folder: Path, stop: Stopping) -> None:
        """Says in one line, once the service is ready, where it is and how to look."""
        host = f"[{options['host']}]" if ":" in options["host"] else options["host"]
        base = f"http://{host}:{options['port']}"
        while not stop.is_set():
            if answers(base + "/readyz"):
                look = f"open {base}/"
                if (people := folder / demo.SIGN_IN).exists():
                    look += f" and sign in by an address and password of {shlex.quote(str(people))}"
                look += f". The API to read: {base}/v1/docs"
                if (key := folder / "demo.key").exists():
                    look += (
                        f'; or try: curl -H "Authorization: Bearer $(cat {shlex.quote(str(key))})" {base}/v1/projects'
                    )
                self.stdout.write(f"Ready at {base} (Ctrl-C stops it): {look}")
                self.stdout.flush()
                return
            stop.wait(0.1)


def lock_folder(folder: Path) -> int:
    """The descriptor that holds the folder's lock while any process of this service lives; CommandError when taken."""
    try:
        lock = os.open(folder / "lock", os.O_RDWR | os.O_CREAT, 0o600)
    except OSError as fault:
        raise CommandError(f"The data folder {folder} can't be written: {fault.strerror}.") from None
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        raise CommandError(f"Another service runs on {folder}.") from None
    return lock


def refuse_taken_port(host: str, port: int) -> None:
    """CommandError where the address can't be bound: better said now than by a child that keeps dying."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except (OSError, OverflowError) as fault:
            raise CommandError(f"{host}:{port} can't be used: {fault}") from None


def make_children(host: str, port: int, lock: int) -> list[Child]:
    """The web server and the worker."""
    environment = os.environ | {"BIND": f"[{host}]:{port}" if ":" in host else f"{host}:{port}"}
    environment["WEB_THREADS"] = str(settings.WEB_THREADS)
    environment.setdefault("LOG_LEVEL", "WARNING")  # on a terminal: what happens, not every request
    # gunicorn reads its configuration before it changes to the folder, and the command may come from any folder
    environment["PYTHONPATH"] = os.pathsep.join([str(settings.BASE_DIR), *filter(None, [os.environ.get("PYTHONPATH")])])
    manage = str(settings.BASE_DIR / "manage.py")
    # -P: what lies in the folder that the command comes from is no module of the service
    web = [sys.executable, "-P", "-m", "gunicorn", "--chdir", str(settings.BASE_DIR), "-c", "python:api.gunicorn_conf"]
    return [
        Child("web", web, environment, (lock,)),
        Child("worker", [sys.executable, manage, "work"], environment, (lock,)),
    ]


def answers(url: str) -> bool:
    """Whether the address answers 200."""
    try:
        with urllib.request.urlopen(url, timeout=2) as answer:
            return bool(answer.status == 200)
    except (urllib.error.URLError, OSError):
        return False
