"""What a request can get wrong. One class a condition; the command line turns each into one line and exit status 2."""


class GroundcheckError(Exception):
    """Base of everything a caller or a policy file can get wrong."""


class SourceNotFound(GroundcheckError):
    """A file or folder that was named does not exist."""


class NothingRead(GroundcheckError):
    """None of the sources gave a single row of inventory."""


class ColumnMapError(GroundcheckError):
    """A column map names a column, table or field that does not exist."""


class PolicyError(GroundcheckError):
    """A policy file has an unknown entry or a value of the wrong type."""


class WaiverError(GroundcheckError):
    """A waiver file, or what a person wrote into an exception workbook, cannot be read as it stands."""


class RuleError(GroundcheckError):
    """A rule module that cannot be loaded or run; the rule is refused, the others run."""


class OutputFolderError(GroundcheckError):
    """The output folder cannot be written."""


class StoreError(GroundcheckError):
    """The store cannot be opened, or was made by an incompatible version."""


class NoSuchRule(GroundcheckError):
    """A rule was named that no rulebook has."""


class NoSuchFinding(GroundcheckError):
    """A finding was named that the store does not hold."""


class NoSuchRun(GroundcheckError):
    """An audit was named that the store does not hold, or two are needed and it holds one."""


class NoSuchStation(GroundcheckError):
    """A station or district was named that the store does not hold."""


class TemplateError(GroundcheckError):
    """An owner's template of the memorandum cannot be read, or does not compile."""


class NoSuchZone(GroundcheckError):
    """A grounding zone was named that the store does not hold, or one must be named to tell it from others."""


class NothingToDraw(GroundcheckError):
    """A figure was asked for of which the store holds nothing."""
