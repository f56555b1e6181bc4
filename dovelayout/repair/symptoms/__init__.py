"""Troubles that makers report: what each comes from, how to tell, what to do; and which one a report in free words is."""

from dovelayout.repair.symptoms.asking import Question, answered, facets, question_for, questions, report_of
from dovelayout.repair.symptoms.evidence import Fact, Says, facts, favoured
from dovelayout.repair.symptoms.piece import KnownPiece
from dovelayout.repair.symptoms.ranking import MOST_LETTERS, MOST_LISTED, Diagnosis, air_change, diagnose
from dovelayout.repair.symptoms.symptom import Symptom, all_symptoms, find_symptom

__all__ = [
    "MOST_LETTERS",
    "MOST_LISTED",
    "Diagnosis",
    "Fact",
    "KnownPiece",
    "Question",
    "Says",
    "Symptom",
    "air_change",
    "all_symptoms",
    "answered",
    "diagnose",
    "facets",
    "facts",
    "favoured",
    "find_symptom",
    "question_for",
    "questions",
    "report_of",
]
