"""The local page: the work of the command line in a browser.

Nothing is computed here.  A place of the page fills the same groups of options as the command
line, as text, and calls what the command calls, so that messages and numbers are the same.
Slow work runs as a command of its own, in a process that can be cancelled.
"""
