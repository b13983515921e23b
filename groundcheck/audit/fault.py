"""What is wrong with a rule, and in which part of it."""

from groundcheck.errors import RuleError


class RuleFault(RuleError):
    """
    A fault of one rule.

    part : field of the rule that is at fault, 'query' or 'inputs'; blank if the rule as a whole is.
    text : the piece of that field that is at fault, such as one input; blank if the whole field is.
    offset : lines from the first line of the field, where the field is a text.
    """

    def __init__(self, why: str, part: str = "", text: str = "", offset: int = 0) -> None:
        super().__init__(why)
        self.why = why
        self.part = part
        self.text = text
        self.offset = offset
