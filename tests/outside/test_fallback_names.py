"""Names that nobody here wrote, of every locale that the faker package has."""

from functools import cache

import pytest
from faker import Faker
from faker.config import AVAILABLE_LOCALES

from namebatch.text.catalogue import load_catalogue
from namebatch.text.clusters import clusters
from namebatch.text.fallback import fallback_for

DEPRECATED = {"fr_QC"}
EACH = 30


@cache
def _can_set(face: str, text: str) -> bool:
    return load_catalogue().open(face).can_set(text)


@pytest.mark.parametrize("locale", sorted(set(AVAILABLE_LOCALES) - DEPRECATED))
def test_every_cluster_of_a_name_has_a_face(locale: str) -> None:
    """No name of any locale has a cluster that none of the fallback faces for it sets."""
    fake = Faker(locale)
    fake.seed_instance(20270)
    catalogue = load_catalogue()
    lacking = []
    for name in (fake.name() for _ in range(EACH)):
        faces = fallback_for(name, catalogue)
        for cluster in clusters(name):
            if not any(_can_set(face, cluster.text) for face in faces):
                lacking.append((name, cluster.text))
    assert lacking == []
