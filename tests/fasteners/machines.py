"""Projects and layouts for the tests of fasteners and parts."""

from __future__ import annotations

from core.machine.layout import Layout, layout
from core.machine.project import Project, replace_at
from core.sections import PropertyBook, SectionProperties, TSlot

# Invented profile, 80 high and 40 wide, two modules.
PROFILE = TSlot(
    width=0.04,
    height=0.08,
    module=0.04,
    slot_opening=0.0082,
    lip=0.0045,
    inner_width=0.02,
    slot_depth=0.0123,
    wall=0.002,
    core_bore=0.0068,
)
# Rough figures will do: the fasteners ask for the outer sizes only.
FIGURES = SectionProperties(
    name="profile", width=0.04, height=0.08, area=1.3e-3, iyy=9e-7, izz=2.4e-7, it=2e-7, avy=5e-4, avz=7e-4,
    wall=0.002,
)  # fmt: skip
BOOK = PropertyBook().with_entry(PROFILE, FIGURES)


def changed(**entries: object) -> Project:
    """The default project with entries of its machine changed; double underscores stand for dots."""
    project = Project()
    for path, value in entries.items():
        made = replace_at(project, "machine." + path.replace("__", "."), value)
        assert isinstance(made, Project)
        project = made
    return project


def slotted(**entries: object) -> Project:
    """A project whose gantry beam is the slotted profile, with T-nuts, both rails on slots."""
    return changed(
        **{
            "gantry__beam__section": PROFILE,
            "gantry__beam__material": "en_aw_6063_t66",
            "gantry__beam__rail_fastening__hold": "T-nut",
            "x_guides__rail_spacing": 0.04,
            **entries,
        }
    )


def laid(project: Project) -> Layout:
    """The layout of a project."""
    return layout(project.machine, BOOK)
