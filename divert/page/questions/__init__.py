"""Questions as a person can answer them: what hangs on each, and what each answer writes."""

from divert.page.questions.asked import questions_of
from divert.page.questions.question import Choice, Field, Question, Signed

__all__ = ["Choice", "Field", "Question", "Signed", "questions_of"]
