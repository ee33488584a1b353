/* The floor of the clock's bench: a plain program that sleeps to absolute deadlines and notes when it woke.
   Arguments: nanoseconds between ticks, number of ticks. Prints the lateness of each tick in nanoseconds. */
#define _GNU_SOURCE
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

int main(int count, char **words) {
    if (count != 3) return 2;
    double period = atof(words[1]);
    long ticks = atol(words[2]);
    long *late = malloc(sizeof *late * ticks);
    struct timespec begun, due, now;
    clock_gettime(CLOCK_MONOTONIC, &begun);
    for (long tick = 0; tick < ticks; tick++) {
        long long at = begun.tv_sec * 1000000000LL + begun.tv_nsec + (long long)((tick + 1) * period);
        due.tv_sec = at / 1000000000LL;
        due.tv_nsec = at % 1000000000LL;
        clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &due, NULL);
        clock_gettime(CLOCK_MONOTONIC, &now);
        late[tick] = (long)(now.tv_sec * 1000000000LL + now.tv_nsec - at);
    }
    for (long tick = 0; tick < ticks; tick++) printf("%ld\n", late[tick]);
    return 0;
}
