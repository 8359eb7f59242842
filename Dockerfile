FROM python:3.11-slim
ENV PYTHONUNBUFFERED=1 PYTHONDONTWRITEBYTECODE=1 DATA_DIR=/data
WORKDIR /app
COPY pyproject.toml README.md ./
RUN pip install --no-cache-dir . && useradd --uid 10001 --no-create-home service && mkdir /data && chown 10001 /data
COPY . .
USER 10001
EXPOSE 8000
CMD ["python", "-m", "gunicorn", "-c", "python:api.gunicorn_conf"]
