"""What the help says of no single screen: saving, the sheet, files, the terminal, sharing jobs, the command line.

Lines are no longer than a window of eighty columns shows whole.
"""

from __future__ import annotations

from stanchion.ui.help_text import CAUTIONS, TYPING, WIDTH, HelpPart
from stanchion.wording.glossary import glossary_text

SAVING = """\
You never save by hand. The top line says saved only once the edit is on
disk; otherwise it says saving, how many values could not be read, or
tried, not saved. Undo works through the whole job, also after the program
was closed and opened.
Every command has a letter or digit after Esc, for keyboards that hide the
function keys. ^Q quits from every screen and dialog: a text being written
is accepted, a new job with something typed in it is created, a question is
put off.
The mouse is left to the terminal, so its own selection and copy work."""

SHEET = """\
^O writes it as text and as one HTML file into the folder sheets beside the
jobs; Esc 8 prints it, where the system has a printer.
It reads in the order a rider and a crew want: faults and open torques that
rule out riding, warnings and advice, what was changed since the job
before, every adjuster with what it is counted from and a box to tick,
pressures, the runs with lap and travel used, and which run's settings the
machine has now; then sag, geometry, loads, springs, upkeep and notes.
Nothing is cut.
The HTML file loads nothing and runs nothing, and is readable on paper and
on a phone; it shows the machine from the side, to scale."""

TERMINAL = """\
The screen adapts to the size of the terminal, also when that changes. From
80 columns figures are beside the fields they follow from; below 80 the
most needed ones are in a few lines under the fields. From 60 columns and
16 lines every screen can be used in full. A smaller one shows the present
field, how it was understood, one figure and the worst warning, and you can
go on typing. What is cut ends with …. The size of the terminal itself
decides, whatever COLUMNS and LINES say.
Where the terminal has no Unicode (LC_ALL, LC_CTYPE or LANG names a locale
without UTF-8, such as C; or TERM is a plain console such as linux), every
screen is drawn in ASCII alone, and so is what is printed there. Names then
lose their accents on the screen only: the job keeps every letter. The key
letters in config.toml chooses by hand; stanchion doctor says what is used.
With 256 colours each colour of a theme becomes the nearest that can be
read. With 16, as on a plain console, all is black and white, with warnings
and the present field in reverse; with NO_COLOR set it is grey."""

FILES = """\
A job is one text file to read, copy and edit, named after day, machine and
rider. When those change, the file gets its new name as the job is left, as
do its sheets and the copies of attached files, and a message says so; a
name that you gave it yourself stays. stanchion path prints
the folders; --jobs DIR or STANCHION_JOBS choose another for the jobs.
A job outside the jobs folder is opened, saved and kept with its earlier
states where it is; the top line says: saved in place. The next job from it
goes into the jobs folder. A folder given by name is the jobs folder of
that start only. The next start opens your own jobs as you left them.
If somebody else changed a job's file while it is open, nothing is
overwritten: you are asked whether to keep yours, take theirs, merge the
two field by field, or save a copy.
The config folder may hold:
config.toml    letters = "ascii" or "unicode"; theme = "night"; wording
               = "us" for American trade words and spelling, in check and
               on sheets too; shared_folder = true (see Several laptops)
  [units]      lengths = "in", rates = "kg/mm", pressures = "psi",
               masses = "lb"
  [keys]       undo = "ctrl+b", by the names at the end of this help
profiles.toml  bands and targets of your own
riders_words.toml   what to try after a complaint, in rows of your own
stock.toml     your stock of springs, written by the program
themes/*.toml  colour themes of your own
A profile of your own, which F2 then offers, with what differs from one
that comes with the program:
  [sprint]
  based_on = "track"
  label = "Sprint, stiff"
  [sprint.front.rider_sag]
  low = 26
  high = 32
What cannot be used in these files is reported at the start, with the
nearest valid name, and skipped; stanchion doctor says the same by line.
Comments that you write into them or into a job stay: the program writes
the file anew and puts each beside its key, or at the end of its table once
the key is gone. Comments of a run or a spring go with it."""

LAPTOPS = """\
A shop shares jobs with what it has: a synced folder, a network disk, or a
version-control system.
Share the jobs folder and nothing else of what stanchion path prints.
profiles.toml, riders_words.toml and stock.toml may be copied by hand;
earlier states, the bin, unsaved edits and the list's index belong to one
laptop. Tell the tool to leave out .stanchion-*.part (files while they are
written) and sheets.
shared_folder = true in config.toml: an edit is then written after 1 s
and at most every 2 s, instead of 0.25 and 0.6 s, so that the tool copies
no file while it changes. Locks do not reach other laptops: two people who
change one job at once get two copies of it.
Copies are recognised by the id in each job, whatever the files are called;
older files without one, by who, when and a name that grew from the other.
The list shows a copy below its job, and the open job says that
there is one. Enter on it, or Esc g in the job, shows only what differs,
both values, and which side changed it since the last state that both have
in common. Left and Right take a value, l and r all of them, Enter merges.
Runs of both are kept. The state before is kept, and the copy goes to the
bin once the merged job is on disk.
Version control: commit the jobs folder, keep its line endings as they are,
and let it merge like this:
  stanchion merge MINE THEIRS --base ANCESTOR -o MINE
A job file with the system's own conflict lines (<<<<<<<) in it is refused,
with what to do."""

COMMANDS = """\
stanchion --help lists the verbs; stanchion VERB --help explains one, with
its exit status and an example. A job is named by its file, or by its name
in the list, with or without .toml; check - and sheet - read it from
standard input. JOB.toml:2 is the second run of a job.
For a name that does not exist the most similar names are given. What is
printed into a terminal keeps to its width; into a file or a pipe it is the
same everywhere.
Every verb exits with 2 where what it prints cannot be written (a full
disk, a closed output, a reader that ended first), and says so in one line.
Status 3 is a fault of stanchion itself: an open job is saved, and a report
that holds nothing of the job is in the state folder.
Work on many files that takes longer than half a second shows its progress,
and ^C stops it with status 130: nothing half finished is printed or
written. What was imported stays, and the same command resumes.
When something does not work as it should, stanchion doctor > doctor.txt
writes down what anyone who helps would ask first. It names no rider,
machine, venue or file."""

GENERAL: tuple[HelpPart, ...] = (
    HelpPart("Moving and typing", TYPING),
    HelpPart("Words", glossary_text(WIDTH)),
    HelpPart("Saving, undoing, quitting", SAVING),
    HelpPart("Hand-over sheet", SHEET),
    HelpPart("Files", FILES),
    HelpPart("Several laptops", LAPTOPS),
    HelpPart("Terminal", TERMINAL),
    HelpPart("Command line", COMMANDS),
    HelpPart("Cautions", CAUTIONS),
)
