"""Whatever a designer asks for: maps that obey every law, or a problem said clearly."""

from grading.strategies import specs, unpinned_specs
from hypothesis import HealthCheck, Phase, given, settings

from gussetry.diagnostics import Faults
from gussetry.grading import Grading, grade
from gussetry.grading.laws import check_map, check_sizes
from gussetry.spec import Spec
from gussetry.stitchmap import from_json, to_json


@settings(
    derandomize=True,
    max_examples=150,
    deadline=None,
    # No shrinking: a specification has too many parts, and each try grades several sizes.
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(specs())
def test_every_specification_is_graded_by_the_laws_or_refused_in_words(spec: Spec) -> None:
    outcome = graded_or_refused(spec)
    if isinstance(outcome, Faults):
        assert outcome.problems
        assert all(p.message.startswith(("size ", "the crown ")) for p in outcome.problems)
        assert all(p.help and p.path for p in outcome.problems)
        return
    assert [graded.size for graded in outcome.sizes] == list(spec.sizes)
    growth, palm = spec.gusset.growth, spec.gusset.towards_palm
    for stitches in outcome.maps:
        # Read back from the file, so that nothing but the file's content is judged.
        assert check_map(from_json(to_json(stitches)), growth, palm) == ()
    for mitten in zip(*(graded.maps for graded in outcome.sizes), strict=True):
        assert check_sizes(mitten) == ()


def graded_or_refused(spec: Spec) -> Grading | Faults:
    """The grading, or the faults that it was refused with; nothing else may be raised."""
    try:
        return grade(spec)
    except Faults as faults:
        return faults


@settings(
    derandomize=True,
    max_examples=60,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(unpinned_specs())
def test_without_pins_every_hand_of_common_size_is_graded(spec: Spec) -> None:
    assert len(grade(spec).sizes) == len(spec.sizes)
