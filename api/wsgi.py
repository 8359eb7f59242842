"""The WSGI application that gunicorn serves."""

from __future__ import annotations

import os

import django.contrib.sessions.serializers
import django.template.context_processors  # noqa: F401 (both: see the end)
from django.core.cache import close_caches
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import reset_queries
from django.template.loader import get_template
from django.urls import get_resolver
from django.utils.formats import get_format

from api.isolation import guard

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")

application = get_wsgi_application()
guard()
# What the framework does around each request for things that are not here: a cache, and queries kept under DEBUG
request_finished.disconnect(close_caches)
request_started.disconnect(reset_queries)
# What the first requests would import: imported while the disk is full, it would be half a file from then on
get_resolver().url_patterns  # noqa: B018 (read for what it imports: the whole service)
get_template("parts/layout.html")
get_format("NUMBER_GROUPING")
