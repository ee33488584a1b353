// The floor: the least that a program on these ports can do. A damper press is answered with a program change, in RtMidi's
// own callback, with nothing in between. Built and run by pedal_to_sound.py; ends when its standard input does.
#include <RtMidi.h>

#include <cstdio>
#include <vector>

static RtMidiOut *mouth;
static unsigned char program = 0;

static void heard(double, std::vector<unsigned char> *message, void *) {
    if (message->size() == 3 && (*message)[0] == 0xB0 && (*message)[1] == 64 && (*message)[2] >= 64) {
        program = (program + 1) & 127;
        const unsigned char change[2] = {0xC0, program};
        mouth->sendMessage(change, 2);
    }
}

int main(int, char **arguments) {
    RtMidiIn ear(RtMidi::UNIX_JACK, arguments[1]);
    RtMidiOut out(RtMidi::UNIX_JACK, arguments[1]);
    mouth = &out;
    ear.setCallback(&heard);
    out.openVirtualPort("out");
    ear.openVirtualPort("in");
    std::puts("ready");
    std::fflush(stdout);
    while (std::getchar() != EOF) {
    }
    return 0;
}
