"""LibreOffice Calc: builds the add-in from the registry and installs it."""

from gasfuncs.hosts.calc.extension import build
from gasfuncs.hosts.calc.mending import MendingError, mend
from gasfuncs.hosts.calc.office import OfficeError, install, status, uninstall

__all__ = ["MendingError", "OfficeError", "build", "install", "mend", "status", "uninstall"]
