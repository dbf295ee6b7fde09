"""The output room: a finished job in, files out. One module a format.

Front doors: `atomic.write_job` writes everything, `target.check_target` refuses a folder before
the work begins. They are not imported here, so that asking for one does not load the others.
"""

from reportlab import rl_config

# PDF streams as bytes, not as text in base 85: a fifth smaller and written in half the time.
# Set here, before any module of this room is read, so that every document is made alike.
rl_config.useA85 = 0
