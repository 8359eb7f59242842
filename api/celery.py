"""The Celery application of a shared deployment; its settings are Django's, under CELERY_."""

from __future__ import annotations

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")

app = Celery("sillwright")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
