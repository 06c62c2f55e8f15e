/* The commit of frames to two slots, with power cuts, a torn word and a reader that reads meanwhile.

   A slot is four words, written one at a time: w0 (kind, layout and status: the commit word; 0 while a commit is under
   way), w1 (sequence), d (all other data) and c (seal). Each word holds the number of the commit that wrote it, so that a
   mix shows; SEQ of a commit is its sequence on a circle of M, started just before the wrap.

   Switches: CUTS power cuts, COMMITS commits, READS reads; LYING lets the seal accept any mix of two or more words (damage
   in one word is at most a burst of 16 bits, which the seal always finds); NO_RECHECK, NO_HIGH_WATER and WRONG (1 to 5)
   leave a part of the design out, to see that it is needed. */

#ifndef CUTS
#define CUTS 1
#endif
#ifndef COMMITS
#define COMMITS 4
#endif
#ifndef READS
#define READS 2
#endif
#ifndef WRONG
#define WRONG 0
#endif

#define M 8
#define TORN 99
#define FIRST (M - 2) /* commits FIRST and FIRST + 1 are in memory at the start; the next has sequence 0 */
#define LAST (FIRST + 1 + COMMITS)

#define NEWER(a, b) (((a) + M - (b)) % M > 0 && ((a) + M - (b)) % M < M / 2)

byte w0[2], w1[2], d[2], c[2];
byte seq[LAST + 1];   /* sequence of each commit */
byte done = FIRST + 1; /* last commit whose commit word is in memory */
byte next = FIRST + 2; /* number of the next commit; never used twice */
byte cuts;
bool off;              /* the tag is without power: a reader gets no answer */

/* Whether a record as read would be accepted. */
inline judge(a0, a1, ad, ac, ok)
{
    ok = false;
    if
    :: a0 != 1 || a1 == TORN -> skip
    :: else ->
        if
        :: a1 == ad && ad == ac -> ok = true
#ifdef LYING
        :: a1 != ad && ad != ac && a1 != ac -> ok = true
#endif
        :: else -> skip /* one word differs: always found */
        fi
    fi
}

/* One word write, or the end of power before it, in it (old, new or neither) or after it. */
inline put(word, value)
{
    if
    :: word = value
    :: cuts < CUTS -> cuts++; off = true; goto boot
    :: cuts < CUTS -> cuts++; word = TORN; off = true; goto boot
    :: cuts < CUTS -> cuts++; word = value; off = true; goto boot
    fi
}

proctype tag()
{
    byte slot, now;
    bool okA, okB;

boot:
    skip;
    atomic {
        off = false;
        judge(w0[0], w1[0], d[0], c[0], okA);
        judge(w0[1], w1[1], d[1], c[1], okB);
        /* P2: what was committed last, or the commit that was cut, is there. */
        assert((okA && w1[0] == done) || (okB && w1[1] == done) ||
               (okA && w1[0] == next - 1) || (okB && w1[1] == next - 1));
        if
        :: okA && (!okB || NEWER(seq[w1[0]], seq[w1[1]])) -> slot = 1; done = w1[0]
        :: else -> slot = 0; done = w1[1]
        fi
    }

    do
    :: next > LAST -> break
    :: else ->
        d_step { now = next; next++; seq[now] = (seq[done] + 1) % M }
#if WRONG == 1
        put(w1[slot], now); put(d[slot], now); put(c[slot], now)           /* no invalidation */
#elif WRONG == 2
        put(w0[slot], 0); put(w1[slot], now); put(w0[slot], 1); put(d[slot], now); put(c[slot], now) /* commit word early */
#elif WRONG == 3
        put(w0[0], 0); put(d[0], now); put(c[0], now); put(w1[0], now); put(w0[0], 1); slot = 0      /* one slot only */
#elif WRONG == 4
        put(w0[slot], 0); put(w1[slot], now); put(d[slot], now); put(c[slot], now); put(w0[slot], 1) /* sequence first */
#else
        put(w0[slot], 0); put(d[slot], now); put(c[slot], now); put(w1[slot], now); put(w0[slot], 1)
#endif
        ;
        d_step { done = now; slot = 1 - slot }
    od
}

proctype reader()
{
    byte r0[2], r1[2], rd[2], rc[2];
    byte reads, s, high, again0, again1;
    bool okA, okB, known;

    do
    :: reads == READS -> break
    :: else ->
        reads++;
        s = 0;
        do
        :: s == 2 -> break
        :: else ->
            if
            :: off -> r0[s] = 0
            :: else -> r0[s] = w0[s]
            fi;
            r1[s] = w1[s]; rd[s] = d[s]; rc[s] = c[s]; s++
        od;
        atomic {
            judge(r0[0], r1[0], rd[0], rc[0], okA);
            judge(r0[1], r1[1], rd[1], rc[1], okB);
            if
            :: okA && (!okB || NEWER(seq[r1[0]], seq[r1[1]])) -> s = 0
            :: okB && (!okA || !NEWER(seq[r1[0]], seq[r1[1]])) -> s = 1
            :: else -> s = 2
            fi
        };
        if
        :: s == 2 -> skip
        :: else ->
#ifndef NO_RECHECK
            again0 = w0[s]; again1 = w1[s];
            if
            :: again0 != r0[s] || again1 != r1[s] -> goto retry
            :: else -> skip
            fi;
#endif
#ifndef NO_HIGH_WATER
            if
            :: known && NEWER(high, seq[r1[s]]) -> goto retry
            :: else -> skip
            fi;
#endif
            d_step {
                /* P1: no mix is accepted. */
                assert(r1[s] == rd[s] && rd[s] == rc[s]);
                /* P3: what is accepted never goes back. */
                assert(!known || !NEWER(high, seq[r1[s]]));
                high = seq[r1[s]];
                known = true
            }
retry:      skip
        fi
    od
}

init
{
    atomic {
        w0[0] = 1; w1[0] = FIRST; d[0] = FIRST; c[0] = FIRST;
        w0[1] = 1; w1[1] = FIRST + 1; d[1] = FIRST + 1; c[1] = FIRST + 1;
        seq[FIRST] = FIRST % M; seq[FIRST + 1] = (FIRST + 1) % M;
        run tag();
        run reader()
    }
}
