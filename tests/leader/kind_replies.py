"""Invented replies of kinds that were read wrongly: new songs, stamps of chats, odd and even, times, corrections."""

from leader.reply_shape import BALL, PIER, reply

KIND_REPLIES = (
    # ---------------------------------------------------------------- songs that the show has not, or no longer has
    reply(PIER, "1 Bb\nnew one at the end of the second set: Lantern Jig, E minor", "1 key Bb\nleft Lantern Jig"),
    reply(PIER, "1 Bb, new song: Lantern Jig in D", "1 key Bb\nleft Lantern Jig in D"),
    reply(PIER, "there's a new tune in set 1, Lantern Jig, Em, drums start", "left Lantern Jig"),
    reply(PIER, "we've added Lantern Jig (Em) to set 2", "left Lantern Jig"),
    reply(PIER, "Instead of Postbox Tango we'll play Sugar Lump in A\n2 G",
          "8 dropped yes ?\n2 key G\nleft Sugar Lump in A"),
    reply(PIER, "we play Sugar Lump in A in place of Moth", "4 dropped yes ?\nleft Sugar Lump in A"),
    reply(PIER, "no more Postbox Tango\n2 G", "8 dropped yes\n2 key G"),
    reply(PIER, "no more Postbox Tango, we're bored of it", "8 dropped yes ?\nleft bored of it"),
    reply(PIER, "we're bored of Moth", "4 dropped yes ?"),
    reply(PIER, "2 G, no more A", "2 key G ?\nleft no more A"),
    # ---------------------------------------------------------------- stamps of chats
    reply(PIER, "Stu, [28.11.26 20:01]\n1 Bb, 2 G\nStu, [28.11.26 20:03]\n4 is Dm btw", "1 key Bb\n2 key G\n4 key Dm"),
    reply(PIER, "Stu (20:01): 1 Bb", "1 key Bb"),
    reply(PIER, "Stu Barlow, today at 8:01 PM:\n1 Bb", "1 key Bb"),
    reply(PIER, "Stu 28/11/2026 20:01\n1 Bb", "1 key Bb"),
    reply(PIER, "2026-11-28T20:01 <stu> 1 Bb", "1 key Bb"),
    reply(PIER, "Corn Hall, 12 Dec 20:00", "show date 2026-12-12\nshow venue Corn Hall ?\nleft 20:00"),
    # ---------------------------------------------------------------- odd, even, the rest, the first, the last
    reply(PIER, "odd numbers in D, even numbers in G",
          "1 key D\n5 key D\n7 key D\n2 key G\n4 key G\n6 key G\n8 key G\n3 key D !"),
    reply(PIER, "set 2: the odd ones fade, the even ones end cold",
          "5 ending fade\n7 ending fade\n6 ending cold\n8 ending cold"),
    reply(PIER, "1 and 2 in C, 4 in Dm, everything else you asked in G",
          "1 key C\n2 key C\n4 key Dm\n5 key G\n6 key G\n7 key G\n8 key G"),
    reply(PIER, "1, 2, 4 and 5 in C, whatever's left is in A",
          "1 key C\n2 key C\n4 key C\n5 key C\n6 key A\n7 key A\n8 key A"),
    reply(PIER, "but the first two are in G if that helps", "1 key G\n2 key G"),
    reply(PIER, "the last three are in G", "6 key G\n7 key G\n8 key G"),
    # ---------------------------------------------------------------- days, places, times
    reply(PIER, "date: 31/12/2026\nplace: the Old Malthouse\nfirst set 9pm to 10pm, second 10.30 to midnight",
          "show date 2026-12-31\nshow venue the Old Malthouse\nFirst starts 21:00\nFirst minutes 60\n"
          "Second starts 22:30\nSecond minutes 90"),
    reply(PIER, "First set is 40 minutes from half past seven. Second set is an hour from nine.",
          "First starts 19:30\nFirst minutes 40\nSecond starts 21:00\nSecond minutes 60"),
    reply(PIER, "set 2 10pm to 11pm, set 1 8pm to 9pm",
          "Second starts 22:00\nSecond minutes 60\nFirst starts 20:00\nFirst minutes 60"),
    reply(PIER, "Fri 18th Dec, Tadwick Golf Club, doors 7, we start at quarter past eight",
          "show date 2026-12-18\nshow venue Tadwick Golf Club ?\nFirst starts 20:15\nleft doors 7"),
    reply(PIER, "venue: Corn Hall\nbring a stand\n2 G", "show venue Corn Hall\n2 key G\nleft bring a stand"),
    # ---------------------------------------------------------------- corrections, doubts, endings, who starts
    reply(PIER, "one in G two in G four in D oh no four is in A sorry five in E",
          "1 key G\n2 key G\n4 key A\n5 key E"),
    reply(PIER, "Moth is E on your list but it's Eb now", "4 key Eb ?"),
    reply(PIER, "4 somewhere around G", "4 key G ?"),
    reply(PIER, "6 ends with a drum fill and a stab", "6 ending drum fill and a stab"),
    reply(PIER, "4 vox a cappella", "4 starts_with vocals"),
    reply(PIER, "4 me counting to 8, G", "4 starts_with count\n4 key G"),
    # ---------------------------------------------------------------- sets, numbers that are no songs, several in turn
    reply(PIER, "1 and 2 in set 2 are in C", "5 key C\n6 key C"),
    reply(PIER, "drums start 1 and 3 in the second set", "5 starts_with drums\n7 starts_with drums"),
    reply(PIER, "2 in set 1 in G and 3 in set 2 in A", "2 key G\n7 key A"),
    reply(PIER, "first two of set 2 in C", "5 key C\n6 key C"),
    reply(PIER, "all four in C", "left all four"),
    reply(PIER, "cut set 2", "5 dropped yes ?\n6 dropped yes ?\n7 dropped yes ?\n8 dropped yes ?"),
    reply(PIER, "we've got 2 singers", "left 2 singers"),
    reply(PIER, "from 5 on all in D", "5 key D ?\n6 key D ?\n7 key D ?\n8 key D ?"),
    reply(PIER, "G and D for Moth and Umbrellas", "4 key G ?\n7 key D ?"),
    reply(PIER, "G and D for 1, 2 and 4", "left G"),
    reply(PIER, "2 in a minor key", "left minor key"),
    reply(BALL, "2/G 3/D 4/Am 6/C 7/F", "2 key G\n3 key D\n4 key Am\n6 key C\n7 key F"),
)  # fmt: skip
