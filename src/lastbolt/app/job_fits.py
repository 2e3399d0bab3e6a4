"""Whether a job file is of the machine whose model is open: two manuals may number their sections alike."""

from lastbolt.words.job import Job
from lastbolt.words.machine import Machine
from lastbolt.words.names import one_machine
from lastbolt.words.problem import Problem


def other_machine(job: Job | None, machine: Machine) -> Problem | None:
    """What to say where the job names another machine than the model's; None where it names this or none."""
    if job is None or one_machine(job.machine, machine.name):
        return None
    return Problem(
        "LB-D24",
        f'The job is of "{job.machine}" and the model is of "{machine.name}": its ticks would be taken for '
        "those of other sections of the same number.",
        "job file, machine",
        "Give the files of one machine. If both names mean one, write the model's name into the job file "
        '("machine").',
        "stop",
    )
