"""What processes at the side of this one have in common."""

import signal


def leave_interrupts_to_the_parent() -> None:
    """Let Ctrl-C at the terminal, which every process of the group is sent, stop the one that started this one."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
