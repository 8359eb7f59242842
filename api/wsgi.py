"""The WSGI application that gunicorn serves."""

from __future__ import annotations

import os

from django.core.cache import close_caches
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import reset_queries

from api.isolation import guard

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")

application = get_wsgi_application()
guard()
# What the framework does around each request for things that are not here: a cache, and queries kept under DEBUG
request_finished.disconnect(close_caches)
request_started.disconnect(reset_queries)
