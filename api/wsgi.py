"""The WSGI application that gunicorn serves."""

from __future__ import annotations

import os

from django.core.wsgi import get_wsgi_application

from api.isolation import guard

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")

application = get_wsgi_application()
guard()
