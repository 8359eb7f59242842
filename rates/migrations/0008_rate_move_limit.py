"""A price or wage of an edition that moves further against the edition before is told; 10 % is a judgement."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('rates', '0007_answers_scope'),
    ]

    operations = [
        migrations.AddField(
            model_name='company',
            name='rate_move_limit',
            field=models.CharField(default='10', max_length=20),
        ),
    ]
