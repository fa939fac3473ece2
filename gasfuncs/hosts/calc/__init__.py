"""LibreOffice Calc: builds the add-in from the registry and installs it."""

from gasfuncs.hosts.calc.extension import build
from gasfuncs.hosts.calc.office import OfficeError, install, status, uninstall

__all__ = ["OfficeError", "build", "install", "status", "uninstall"]
