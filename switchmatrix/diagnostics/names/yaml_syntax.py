"""The page of `yaml-syntax`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

YAML_SYNTAX = Name(
    name="yaml-syntax",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
