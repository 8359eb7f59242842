"""Several people may sign in by one address; what a company calls a person is its member's name."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('rates', '0005_addresses'),
    ]

    operations = [
        migrations.RemoveField(
            model_name='person',
            name='name',
        ),
        migrations.AlterField(
            model_name='person',
            name='email',
            field=models.CharField(db_index=True, max_length=254),
        ),
        migrations.AlterField(
            model_name='person',
            name='password',
            field=models.CharField(max_length=256),
        ),
    ]
