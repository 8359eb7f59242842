"""An address is no identity: members keep the address that their company invited, people are who has a password.

Who has a password keeps it. Invited people without one, and members that only have access keys, are nobody yet: their
members stand by themselves. Forward only.
"""

from django.db import migrations, models
import django.db.models.deletion


def give_members_their_address(apps, schema_editor):
    """What members took from their person becomes their own; people without a password go."""
    Member, Person = (apps.get_model("rates", name) for name in ("Member", "Person"))
    for person in Person.objects.iterator():
        members = Member.objects.filter(person=person)
        members.filter(name="").update(name=person.name)
        members.update(email=person.email)
        if not person.password:
            members.update(person=None)
    Person.objects.filter(password="").delete()


class Migration(migrations.Migration):

    dependencies = [
        ('rates', '0004_length_style'),
    ]

    operations = [
        migrations.AddField(
            model_name='member',
            name='email',
            field=models.CharField(max_length=254, null=True),
        ),
        migrations.AlterField(
            model_name='member',
            name='person',
            field=models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='rates.person'),
        ),
        migrations.AddConstraint(
            model_name='member',
            constraint=models.UniqueConstraint(fields=('company', 'email'), name='member_email_once'),
        ),
        migrations.RunPython(give_members_their_address),
    ]
