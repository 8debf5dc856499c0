"""The page of `yaml-feature`."""

from switchmatrix.diagnostics.diagnostic import Name, Severity

YAML_FEATURE = Name(
    name="yaml-feature",
    severity=Severity.ERROR,
    page="",
    wrong={},
    right={},
)
