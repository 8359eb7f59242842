"""The one settings file of Django 5.2. The environment decides what differs between machines (environment.py).

DATABASE_URL, REDIS_URL, SECRET_KEY, ALLOWED_HOSTS, DATA_DIR; without them SQLite under DATA_DIR and loopback only.
"""

from __future__ import annotations

import os
from pathlib import Path

from api.environment import (
    LOOPBACK,
    is_reached_by_others,
    make_data_folder,
    read_database,
    read_hosts,
    read_metrics_token,
    read_secret,
    read_whole,
)
from api.logs import logging_settings

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = make_data_folder(os.environ, BASE_DIR / ".data")

DEBUG = False
ALLOWED_HOSTS = read_hosts(os.environ)
SECRET_KEY = read_secret(os.environ, ALLOWED_HOSTS, DATA_DIR)
DATABASES = {"default": read_database(os.environ, DATA_DIR)}
REDIS_URL = os.environ.get("REDIS_URL", "")
# Roles of a PostgreSQL server: the service's, which owns nothing, and that of backups; a third one owns and migrates
APPLICATION_ROLE = os.environ.get("APPLICATION_ROLE", "sillwright_service")
DUMP_ROLE = os.environ.get("DUMP_ROLE", "sillwright_dump")

INSTALLED_APPS = [
    "django.contrib.sessions",
    "rest_framework",
    "rates.apps.Rates",
    "estimating.apps.Estimating",
    "api.apps.Api",
]
MIDDLEWARE = ["api.middleware.Attend", "api.cookies.Cookies"]
ROOT_URLCONF = "api.urls"
WSGI_APPLICATION = "api.wsgi.application"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "api" / "pages" / "templates"],
        "OPTIONS": {
            "builtins": ["api.pages.words"],
        },
    }
]
APPEND_SLASH = False

# People sign in with a session; other hosts than this machine are reached through a proxy with TLS
SECURE_ONLY = not set(ALLOWED_HOSTS) <= set(LOOPBACK)
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_ONLY
SESSION_COOKIE_AGE = 12 * 3600
PROXIES = read_whole(os.environ, "PROXIES", 0, least=0)  # trusted, before the service, each adding to X-Forwarded-For
METRICS_TOKEN = read_metrics_token(os.environ)
METRICS_OPEN = not METRICS_TOKEN and not is_reached_by_others(os.environ, ALLOWED_HOSTS, PROXIES)
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if PROXIES else None  # the nearest proxy says so
CSRF_TRUSTED_ORIGINS = [f"https://{host.removeprefix('.')}" for host in ALLOWED_HOSTS if host != "*"]
CSRF_FAILURE_VIEW = "api.pages.refusals.csrf_failed"
SIGN_IN_FAILURES = read_whole(os.environ, "SIGN_IN_FAILURES", 8)  # of one address, after which it is locked
SIGN_IN_LOCK_SECONDS = read_whole(os.environ, "SIGN_IN_LOCK_SECONDS", 900)
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}", "OPTIONS": options}
    for name, options in (
        ("MinimumLengthValidator", {"min_length": 12}),
        ("UserAttributeSimilarityValidator", {"user_attributes": ("name", "email")}),
        ("CommonPasswordValidator", {}),
        ("NumericPasswordValidator", {}),
    )
]

LANGUAGE_CODE = "en-us"
TIME_ZONE = "UTC"
USE_TZ = True
LOGGING_CONFIG = None
LOGGING = logging_settings(os.environ.get("LOG_LEVEL", "INFO"))

# The framework routes, authenticates, throttles and permits; content is read and written by field tables, not by it
REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": ["api.auth.AccessKeyAuthentication", "api.auth.MemberAuthentication"],
    "DEFAULT_THROTTLE_CLASSES": ["api.auth.CallerThrottle"],
    "DEFAULT_PERMISSION_CLASSES": ["api.auth.ScopePermission"],
    "DEFAULT_RENDERER_CLASSES": [],
    "DEFAULT_PARSER_CLASSES": [],
    "UNAUTHENTICATED_USER": None,
    "UNAUTHENTICATED_TOKEN": None,
}

# What a request may be
SMALL_BODY_BYTES = 256 * 1024
LARGE_BODY_BYTES = 64 * 2**20
DATA_UPLOAD_MAX_MEMORY_SIZE = LARGE_BODY_BYTES + 1
DATA_UPLOAD_MAX_NUMBER_FIELDS = 40_000  # a form of a grid has one for each cell
MOST_JSON_DEPTH = 64
MOST_WAIT_SECONDS = 30
RATE_LIMIT = read_whole(os.environ, "RATE_LIMIT", 6000)  # requests of one access key in a window
RATE_WINDOW_SECONDS = 60
WRONG_KEYS_LIMIT = read_whole(os.environ, "WRONG_KEYS_LIMIT", 60)  # requests with wrong keys a minute and address
IN_FLIGHT_SECONDS = 60  # after which a record without an answer is taken for one whose sender died

# Runs
WEB_THREADS = read_whole(os.environ, "WEB_THREADS", 8)
SMALL_RUN_LINES = read_whole(os.environ, "SMALL_RUN_LINES", 10_000)  # up to here the web process works itself
MOST_OPEN_RUNS = read_whole(os.environ, "MOST_OPEN_RUNS", 10_000)  # of one company
RUN_LEASE_SECONDS = read_whole(os.environ, "RUN_LEASE_SECONDS", 30)
RUN_BEAT_SECONDS = RUN_LEASE_SECONDS / 4
RUN_ATTEMPTS = 5
RUN_KILLS = 2
SWEEP_SECONDS = read_whole(os.environ, "SWEEP_SECONDS", 5)
WORKER_SILENCE_SECONDS = 4 * SWEEP_SECONDS
# Both are always on; the fault tests switch them off to see that their harness notices
RUN_FENCE = os.environ.get("RUN_FENCE") != "off"
RUN_SWEEPER = os.environ.get("RUN_SWEEPER") != "off"

CELERY_BROKER_URL = REDIS_URL or "memory://"
CELERY_TASK_IGNORE_RESULT = True
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_CONNECTION_MAX_RETRIES = None
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_WORKER_HIJACK_ROOT_LOGGER = False
CELERY_BROKER_TRANSPORT_OPTIONS = {"socket_connect_timeout": 1, "socket_timeout": 10, "socket_keepalive": True}
CELERY_TASK_PUBLISH_RETRY = False
