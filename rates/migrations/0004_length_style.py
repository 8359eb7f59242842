"""How a company's people read lengths; companies that stand get the style of their unit system. Forward only."""

from django.db import migrations, models


def give_style_of_units(apps, schema_editor):
    """Millimetres to metric companies; the others have feet and inches by the field's default."""
    apps.get_model("rates", "Company").objects.filter(unit_system="metric").update(length_style="mm")


class Migration(migrations.Migration):

    dependencies = [
        ('rates', '0003_people'),
    ]

    operations = [
        migrations.AddField(
            model_name='company',
            name='length_style',
            field=models.CharField(default='feet_inches', max_length=11),
        ),
        migrations.RunPython(give_style_of_units),
    ]
