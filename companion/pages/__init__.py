"""Preparing in the browser: pages served from this computer to this computer. No room imports this one."""
