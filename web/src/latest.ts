// One question on its way at a time; the newest waits for its answer and goes next, all between are dropped.

export class Latest<Asked, Answer> {
    private flying = false;
    private next: { asked: Asked } | null = null;
    private stopped = false;

    constructor(
        private readonly send: (asked: Asked) => Promise<Answer>,
        private readonly got: (answer: Answer, asked: Asked) => void,
        private readonly failed: (why: unknown) => void,
    ) {}

    ask(asked: Asked): void {
        if (this.stopped) return;
        if (this.flying) this.next = { asked };
        else void this.go(asked);
    }

    get busy(): boolean {
        return this.flying;
    }

    /** Answers that still come are dropped. */
    stop(): void {
        this.stopped = true;
        this.next = null;
    }

    private async go(asked: Asked): Promise<void> {
        this.flying = true;
        try {
            const answer = await this.send(asked);
            if (!this.stopped) this.got(answer, asked);
        } catch (why) {
            if (!this.stopped) this.failed(why);
        }
        this.flying = false;
        const next = this.next;
        this.next = null;
        if (next && !this.stopped) void this.go(next.asked);
    }
}
