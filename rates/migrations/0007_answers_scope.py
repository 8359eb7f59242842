"""Answers have a scope of their own; keys that could answer by `estimate` keep that, as far as their member's role goes."""

from django.db import migrations


def give_answers(apps, schema_editor):
    """The scope `answers` to every key with `estimate`: what a key may is still bounded by its member's role."""
    for key in apps.get_model("rates", "AccessKey")._base_manager.all().iterator():
        if "estimate" in key.scopes and "answers" not in key.scopes:
            key.scopes = sorted([*key.scopes, "answers"])
            key.save(update_fields=["scopes"])


class Migration(migrations.Migration):

    dependencies = [
        ('rates', '0006_people'),
    ]

    operations = [
        migrations.RunPython(give_answers),
    ]
