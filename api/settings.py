"""The one settings file of Django 5.2. The environment decides what differs between machines (environment.py).

DATABASE_URL, REDIS_URL, SECRET_KEY, ALLOWED_HOSTS, DATA_DIR; without them SQLite under DATA_DIR and loopback only.
"""

from __future__ import annotations

import os
from pathlib import Path

from api.environment import make_data_folder, read_database, read_hosts, read_secret

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = make_data_folder(os.environ, BASE_DIR / ".data")

DEBUG = False
ALLOWED_HOSTS = read_hosts(os.environ)
SECRET_KEY = read_secret(os.environ, ALLOWED_HOSTS, DATA_DIR)
DATABASES = {"default": read_database(os.environ, DATA_DIR)}
REDIS_URL = os.environ.get("REDIS_URL", "")

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "rest_framework",
    "rates.apps.Rates",
    "estimating.apps.Estimating",
    "api.apps.Api",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
ROOT_URLCONF = "api.urls"
WSGI_APPLICATION = "api.wsgi.application"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
TEMPLATES = [{"BACKEND": "django.template.backends.django.DjangoTemplates", "APP_DIRS": True}]

LANGUAGE_CODE = "en-us"
TIME_ZONE = "UTC"
USE_TZ = True

CELERY_BROKER_URL = REDIS_URL or "memory://"
CELERY_TASK_IGNORE_RESULT = True
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
