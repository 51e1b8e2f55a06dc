"""The desk: the job in a browser on this machine, as pages of links and forms over the same job file."""

from ledgewright.desk.serving import DEFAULT_PORT, NoNetwork, PortTaken, get, serve

__all__ = ["DEFAULT_PORT", "NoNetwork", "PortTaken", "get", "serve"]
