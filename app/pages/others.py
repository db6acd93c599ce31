"""Every page but the first, in one import: half the program, loaded while the first answer is being read."""

from app.pages.base_page import BasePage
from app.pages.compare_page import ComparePage
from app.pages.cuts_page import CutsPage
from app.pages.cutting_page import CuttingPage
from app.pages.deflection_page import DeflectionPage
from app.pages.drives_page import DrivesPage
from app.pages.form_page import FormPage
from app.pages.guide_page import GuidePage
from app.pages.guides_page import GuidesPage
from app.pages.heat_page import HeatPage
from app.pages.joints_page import JointsPage
from app.pages.money_page import MoneyPage
from app.pages.parts_page import PartsPage
from app.pages.rails_page import RailsPage
from app.pages.rank_page import RankPage
from app.pages.section_page import SectionPage
from app.pages.stiffen_page import StiffenPage
from app.pages.vibration_page import VibrationPage

__all__ = [
    "BasePage",
    "ComparePage",
    "CutsPage",
    "CuttingPage",
    "DeflectionPage",
    "DrivesPage",
    "FormPage",
    "GuidePage",
    "GuidesPage",
    "HeatPage",
    "JointsPage",
    "MoneyPage",
    "PartsPage",
    "RailsPage",
    "RankPage",
    "SectionPage",
    "StiffenPage",
    "VibrationPage",
]
